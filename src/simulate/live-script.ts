import { minute, second } from "../terms/time.ts";
import type { DemoUnit } from "./demo-unit.ts";
import { demoUnits } from "./demo-units.ts";
import type { Fault } from "./fault.ts";
import type { FaultKind } from "./fault-kinds.ts";
import { oneOf, randomFrom } from "./random.ts";
import { recordedEndMs } from "./recorded-day.ts";
import type { Stop } from "./schedule.ts";

/** Something that happens to a unit after the recorded day: a fault, and the visit that ends it. */
export interface LiveEvent {
  readonly unit: string;
  readonly fault: Fault;
  /** Switched off for the visit. */
  readonly stop?: Stop;
}

/** A minute off is enough to fill a casing or free a fan. */
const visitMs = minute;

function liveEvent(unit: string, kind: FaultKind, fromMin: number, toMin: number, severity = 1): LiveEvent {
  const fromMs = recordedEndMs + fromMin * minute;
  const toMs = recordedEndMs + toMin * minute;
  const fault = { kind, fromMs, toMs, severity, courseMs: courses[kind] ?? 0 };
  const visited = kind === "suction-uncovered" || kind === "cooling-blocked";
  return { unit, fault, stop: visited ? { fromMs: toMs, toMs: toMs + visitMs } : undefined };
}

const courses: Readonly<Partial<Record<FaultKind, number>>> = {
  "suction-uncovered": 40 * second,
  "cooling-blocked": 3 * minute,
  "strainer-clogged": 40 * minute,
};

/** What begins in the first hour after the recorded day, in minutes of log time. */
export const openingEvents: readonly LiveEvent[] = [
  liveEvent("OX-03", "cooling-blocked", 1, 75),
  liveEvent("QM-01", "suction-uncovered", 7.5, 65),
  liveEvent("QM-02", "ozone-cell-off", 17.5, 95),
  liveEvent("AC-02", "ozone-relay-welded", 20, 130),
  liveEvent("OX-04", "protector-tripped", 30, 85),
];

/** When the faults that the recorded day ends with are mended, in minutes of log time after it. */
const visits: Readonly<Record<string, number>> = {
  "QM-04": 70,
  "AC-03": 58,
  "SB-01": 88,
  "FP-01": 40,
  "FP-03": 36,
  "OX-02": 115,
};

/** A demo unit whose faults that still go on are mended on a visit after the recorded day. */
export function visitedUnit(unit: DemoUnit): DemoUnit {
  const visitMin = visits[unit.id];
  if (visitMin === undefined) return unit;
  const toMs = recordedEndMs + visitMin * minute;
  const faults = (unit.faults ?? []).map((fault) => (fault.toMs === undefined ? { ...fault, toMs } : fault));
  const off = faults.some(({ kind }) => kind === "suction-uncovered" || kind === "cooling-blocked");
  const stops = [...(unit.stops ?? []), ...(off ? [{ fromMs: toMs, toMs: toMs + visitMs }] : [])];
  return { ...unit, faults, stops };
}

/** Units that go wrong later on: those that run all day and have nothing the matter at the start. */
const later = demoUnits.filter(
  (unit) => unit.runs === "always" && unit.season === undefined && unit.kept !== "missing",
);
const laterKinds: readonly FaultKind[] = [
  "suction-uncovered",
  "ozone-cell-off",
  "cooling-blocked",
  "protector-tripped",
  "ozone-cell-fault",
  "supply-lost",
  "logger-silent",
];

/**
 * Faults without end, in order of onset: one begins each half hour to hour of log time on a unit that has
 * been well for two hours, and is mended within two hours.
 */
export function* laterEvents(seed: number): Generator<LiveEvent, never> {
  const random = randomFrom(seed);
  const busyUntilMin = new Map<string, number>(openingEvents.map(({ unit }) => [unit, 240]));
  for (const [unit, visitMin] of Object.entries(visits)) busyUntilMin.set(unit, visitMin + 120);
  let atMin = 100;
  while (true) {
    const kind = oneOf(laterKinds, random);
    const well = later.filter(
      (unit) =>
        (busyUntilMin.get(unit.id) ?? 0) < atMin && (!kind.startsWith("ozone-") || unit.ozone === "fitted"),
    );
    if (well.length > 0) {
      const unit = oneOf(well, random).id;
      const slow = kind === "cooling-blocked";
      const lastsMin = Math.round(random.between(slow ? 80 : 45, 120));
      busyUntilMin.set(unit, atMin + lastsMin + 120);
      yield liveEvent(unit, kind, atMin, atMin + lastsMin, slow ? 0.7 : 1);
    }
    atMin += Math.round(random.between(30, 60));
  }
}
