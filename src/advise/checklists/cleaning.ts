import { age, minute } from "../../terms/time.ts";
import { cautions } from "../cautions.ts";
import { type Basis, type Checklist, type Known, step, usual } from "./checklist.ts";

/** Where the maker's words are not in the fleet file (common practice). */
export const usualDoseMl = 25;
const usualSoakMs = 15 * minute;
const usualRinses = 3;

/** Cleaning a fine-bubble generator in place, by the maker's cleaner as far as the fleet file tells it. */
export function cleaningChecklist({ cleaner = {} }: Known): Checklist {
  const { name = "cleaner", strength, doseMl, soakMs, rinses } = cleaner;
  const basis = (said: unknown): Basis => (said === undefined ? "common practice" : "maker");
  const dose = doseMl === undefined ? `about ${usualDoseMl} mL` : `${doseMl} mL`;
  const soak = soakMs === undefined ? `at least ${age(usualSoakMs)}` : age(soakMs);
  const prepared = strength === undefined ? "prepared as its label says" : strength;
  return {
    steps: [
      step("Put on record that it begins: service begin FLEET UNIT cleaning."),
      step("Read gas pressure, discharge pressure and motor current while it still runs; write them down."),
      step("Ozone off. Let pump and gas feed run on until the gas has swept the line free of ozone."),
      step("Then the gas feed off, at its source."),
      step("Unplug the pump and keep the plug with you. Relieve gas and water pressure."),
      step("Shut the generator off from the pond, so that no cleaner runs into it."),
      step("Put on gloves and goggles. Stand upwind."),
      { text: `Put ${dose} of ${name} into the generator (${prepared}).`, basis: basis(doseMl) },
      { text: `Let it stand for ${soak}.`, basis: basis(soakMs) },
      { text: `Rinse ${rinses ?? usualRinses} times, until the water is clear.`, basis: basis(rinses) },
      step("Catch cleaner and rinse water. A second cleaner only after the first is rinsed out."),
      usual("Look at the gas line's check valve and its filter while the line is open."),
      step("Close everything, open the valves, fill the casing."),
      usual("Press the ground-fault device's test button, nobody in or at the water: it must cut the power."),
      step("Plug it in with dry hands, standing beside it."),
      usual("Watch it prime; after 30 min of steady running compare gas pressure with its clean value."),
      step("Put the end on record with what was used: service end FLEET UNIT cleaning --used ..."),
      step("Whether it worked shows in service log once it has run for six hours."),
    ],
    load: [
      `${dose} of ${name} a generator`,
      "clean water for the rinses, and a container to catch them",
      "gloves and goggles",
    ],
    cautions: [
      cautions.unplug,
      cautions.wet,
      cautions.restart,
      cautions.scald,
      cautions.ozone,
      cautions.relieve,
      cautions.oxygenFeed,
      cautions.neverMix,
      cautions.gloves,
      cautions.rinseWater,
      cautions.vault,
      cautions.manual,
    ],
  };
}
