import { join } from "node:path";
import type { Fleet, Unit } from "../src/fleet/unit.ts";
import type { Told } from "../src/score/told.ts";
import type { InventedUnit } from "../src/simulate/invented-unit.ts";
import { built, each, faultArgs, played } from "./fleets.ts";
import { cleanRiseK, type HeatCase, type HeatReading, limitReachedMs } from "./heat-limit.ts";

/** Fleets whose motors lose their cooling within up to six hours, by chance. */
const heatFleet = { units: 24, days: 3, intervalMs: 10_000, fromMs: Date.parse("2026-05-04T00:00:00Z") };
const kind = "cooling-blocked";
const faultsWanted = 40;

/** The heat faults that set in more slowly than their motor's time constant, and the reckoning of each. */
export async function slowHeat(seeds: readonly number[], folder: string): Promise<HeatCase[]> {
  return (await each(seeds, (seed) => casesOf(seed, folder))).flat();
}

async function casesOf(seed: number, folder: string): Promise<HeatCase[]> {
  const { inventFleet } = await built<typeof import("../src/simulate/invent.ts")>("simulate/invent.js");
  const { loadFleet } = await built<typeof import("../src/commands/load-fleet.ts")>("commands/load-fleet.js");
  const faults = Array.from({ length: faultsWanted }, () => ({ kind }) as const);
  const invented = inventFleet({ ...heatFleet, seed, faults });
  const args = [
    ...["--units", String(heatFleet.units), "--days", String(heatFleet.days)],
    ...["--interval", `${heatFleet.intervalMs / 1000} s`, "--from", new Date(heatFleet.fromMs).toISOString()],
    ...faultArgs(kind, faultsWanted),
  ];
  const { told, seen } = await played({ name: "heat", seed, args }, folder, async (out) => {
    const { fleet } = await loadFleet(join(out, "fleet.yaml"));
    const cases: Omit<HeatCase & { readonly unit: string }, "raisedMs">[] = [];
    for (const unit of fleet.units) {
      const one = invented.find(({ id }) => id === unit.id);
      if (one === undefined || one.faults.length === 0) continue;
      const timeConstantMs = await timeConstantOf(one);
      const readings = await readingsOf(unit, fleet);
      const cleanK = cleanRiseK(readings, Math.min(...one.faults.map(({ fromMs }) => fromMs)));
      for (const { fromMs, toMs = Number.POSITIVE_INFINITY, courseMs } of one.faults) {
        if (courseMs <= timeConstantMs) continue;
        cases.push({ unit: unit.id, fromMs, reachedMs: limitReachedMs(readings, fromMs, toMs, cleanK) });
      }
    }
    return cases;
  });
  return seen.map((one) => ({ ...one, raisedMs: raisedAt(told, one.unit) }));
}

/** The time constant of an invented motor's shell, ms. */
async function timeConstantOf({ plan }: InventedUnit): Promise<number> {
  const { buildSkid } = await built<typeof import("../src/simulate/skid.ts")>("simulate/skid.js");
  const { capacityJPerK, toAirWPerK, toCasingWPerK } = buildSkid(plan).thermal;
  return (1000 * capacityJPerK) / (toAirWPerK + toCasingWPerK);
}

/** What a unit's log says of its motor's heat. */
async function readingsOf(unit: Unit, fleet: Fleet): Promise<HeatReading[]> {
  const { findLogs } = await built<typeof import("../src/acquire/find.ts")>("acquire/find.js");
  const { unitRows } = await built<typeof import("../src/score/unit-rows.ts")>("score/unit-rows.js");
  const { channelIndex } = await built<typeof import("../src/terms/channels.ts")>("terms/channels.js");
  const { files } = await findLogs(fleet);
  const readings: HeatReading[] = [];
  for await (const { rows, timeMs, columns } of unitRows(unit, fleet, files.get(unit.id) ?? [])) {
    const at = (channel: keyof typeof channelIndex, row: number) =>
      columns[channelIndex[channel]]?.[row] ?? Number.NaN;
    for (let row = 0; row < rows; row++) {
      readings.push({
        timeMs: timeMs[row],
        currentA: at("motor_current", row),
        shellC: at("motor_temperature", row),
        airC: at("ambient_temperature", row),
      });
    }
  }
  return readings;
}

function raisedAt(told: readonly Told[], unit: string): number[] {
  return told
    .filter((event) => event.unit === unit && event.alarm === "overheating")
    .filter((event) => event.kind === "raised" || event.kind === "unsuppressed")
    .map(({ timeMs }) => timeMs);
}
