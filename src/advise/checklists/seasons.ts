import { day, hour, span } from "../../terms/time.ts";
import { cautions } from "../cautions.ts";
import { type Checklist, step, usual } from "./checklist.ts";

/** The first run of a pond that may be stratified, doubled every day (common practice). */
const firstRunMs = 0.5 * hour;

/** How long a unit runs on each day of a slow start, ms: the last of them round the clock. */
export function startUpRuns(): readonly number[] {
  const runs = [firstRunMs];
  for (let runMs = firstRunMs; runMs < day; ) {
    runMs = Math.min(day, 2 * runMs);
    runs.push(runMs);
  }
  return runs;
}

export const layUpChecklist: Checklist = {
  steps: [
    usual("Before the first frost. Clean the generator first: scale that dries is harder to get off."),
    step("Ozone off, gas off; unplug and keep the plug; relieve gas and water pressure."),
    usual("Drain casing, strainer, lines and gauges; leave drain plugs out and tie them to the skid."),
    usual("Lift suction and screen out of the ice's reach, or sink them below it."),
    usual("Blow no air through the gas line but clean and dry; cap it at the cell and at the generator."),
    step("Cover against snow and mice with the vents open; mark what lies under snow."),
    step("Take the logger's battery out, or leave it running: silence out of season is not told."),
    step("Write or check `season` in the fleet file; put it on record: service done FLEET UNIT lay-up."),
  ],
  load: ["caps, plugs and a cover", "what the cleaning needs"],
  cautions: [
    cautions.unplug,
    cautions.ozone,
    cautions.relieve,
    cautions.oxygenFeed,
    cautions.neverMix,
    cautions.gloves,
    cautions.rinseWater,
    cautions.vault,
    cautions.ice,
    cautions.manual,
  ],
};

/** Starting up after a winter, or for the first time. */
export function startUpChecklist(): Checklist {
  const runs = startUpRuns().map((runMs, i) => `day ${i + 1}: ${runMs === day ? "on" : span(runMs)}`);
  return {
    steps: [
      step("Look for cracks from frost, chewed cords, nests; renew gaskets that have dried."),
      usual("Press the ground-fault device's test button, nobody in or at the water: it must cut the power."),
      step("Drain plugs in, lines tight, strainer clear; fill the casing."),
      step("Ozone stays off until water moves and the gas line is dry."),
      step("Plug it in standing beside it; watch it prime within its time, and stop it if it does not."),
      usual("A deep pond (3 m and more) may lie in layers, its bottom water without oxygen."),
      usual("Turned over at once it can kill fish: let it run longer day by day, in the morning:"),
      usual(`${runs.join(", ")}.`),
      usual("Measure dissolved oxygen near the surface meanwhile; fish that gasp: stop, and wait a day."),
      step("While it stands between short runs shelve not-running alone: the others are to be heard."),
      step("Once it runs through: service done FLEET UNIT start-up; hold it against its baseline."),
    ],
    load: ["gaskets and clamps", "priming water", "oxygen meter"],
    cautions: [
      cautions.unplug,
      cautions.ozone,
      cautions.relieve,
      cautions.oxygenFeed,
      cautions.vault,
      cautions.electrician,
      cautions.wet,
      cautions.ice,
      cautions.silence,
      cautions.manual,
    ],
  };
}
