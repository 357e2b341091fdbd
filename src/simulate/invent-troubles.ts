import { day, hour, minute } from "../terms/time.ts";
import type { Fault } from "./fault.ts";
import { type FaultEntry, type FaultKind, faultKinds, faultNames } from "./fault-kinds.ts";
import { canHappen, channelFor } from "./fault-needs.ts";
import { usualLife } from "./invent-life.ts";
import type { InventedUnit } from "./invented-unit.ts";
import { cleanMs, endMs, type FaultWish, type Invention } from "./invention.ts";
import { partSeed, type Random, randomFrom } from "./random.ts";

/** A unit is left alone for so long after a repair. */
const restMs = 6 * hour;
/** Somebody comes, notes it, switches off, mends, switches on and watches it run. */
const notedMs = 5 * minute;
const offMs = 10 * minute;
const watchedMs = 10 * minute;

/** Gives each unit its faults, their repairs, and a usual life between them. */
export function inventTroubles(
  units: readonly InventedUnit[],
  invention: Invention,
): readonly InventedUnit[] {
  const free = units.map(() => invention.fromMs + cleanMs);
  const troubled = units.map((unit) => ({ ...unit, faults: [...unit.faults] as Fault[] }));
  const random = randomFrom(partSeed(invention.seed, 1));
  for (const wish of wishes(invention, units.length)) {
    const place = placeFor(wish, units, free, invention);
    if (place === undefined) continue;
    const fault = faultOf(wish, units[place], free[place], invention, random);
    troubled[place].faults.push(fault);
    free[place] = (fault.toMs as number) + restMs;
  }
  return troubled.map((unit, place) =>
    usualLife(withRepairs(unit, invention), invention, randomFrom(partSeed(invention.seed, 3 * place + 2))),
  );
}

/** A fault that lasts for days fills a unit's log: it comes first, at one unit in so many. */
const longMs = 3 * day;
const unitsALong = 6;

/** With `all`: each kind in turn, long ones first, until no unit has time left for any. */
function* wishes({ faults, days }: Invention, units: number): Generator<FaultWish> {
  if (faults !== "all") {
    yield* faults;
    return;
  }
  const rounds = Math.ceil((units * days) / faultNames.length);
  const longest = (kind: FaultKind) => faultKinds[kind].lastsMs[1];
  const inTurn = faultNames.toSorted((a, b) => longest(b) - longest(a));
  for (const kind of inTurn.filter((kind) => longest(kind) > longMs)) {
    for (let i = 0; i < Math.ceil(units / unitsALong); i++) yield { kind };
  }
  for (let round = 0; round < rounds; round++) for (const kind of inTurn) yield { kind };
}

/** The unit that has been left alone longest of those where it can happen; undefined: there is none. */
function placeFor(
  wish: FaultWish,
  units: readonly InventedUnit[],
  free: readonly number[],
  invention: Invention,
): number | undefined {
  const entry: FaultEntry = faultKinds[wish.kind];
  const lastMs = endMs(invention);
  const fits = units
    .map((_, place) => place)
    .filter((place) => canHappen(wish.kind, units[place], invention.intervalMs))
    .filter((place) => wish.afterMs !== undefined || free[place] + entry.lastsMs[1] + 2 * hour < lastMs)
    .sort((a, b) => free[a] - free[b]);
  return fits[0];
}

function faultOf(
  wish: FaultWish,
  unit: InventedUnit,
  freeMs: number,
  invention: Invention,
  random: Random,
): Fault {
  const entry: FaultEntry = faultKinds[wish.kind];
  const between = ([least, most]: readonly [number, number]) => random.between(least, most);
  const begunMs =
    wish.afterMs === undefined ? freeMs + random.between(0, 2 * hour) : invention.fromMs + wish.afterMs;
  const courseMs = Math.round(between(entry.courseMs));
  const lastsMs = Math.max(Math.round(between(entry.lastsMs)), courseMs + 20 * minute);
  return {
    kind: wish.kind,
    fromMs: Math.round(begunMs),
    toMs: Math.min(Math.round(begunMs + lastsMs), endMs(invention)),
    severity: wish.severity ?? between(entry.severity),
    courseMs,
    channel: channelFor(wish.kind, unit, random),
  };
}

/** Faults of the skid itself are mended on a visit; a start that has to fail needs a stop before it. */
function withRepairs(unit: InventedUnit, { intervalMs }: Invention): InventedUnit {
  const stops = [...unit.stops];
  const services = [...unit.services];
  for (const { kind, fromMs, toMs } of unit.faults) {
    if (toMs === undefined) continue;
    const cleaned = kind === "gas-line-fouling";
    const work = cleaned ? "cleaning" : "repair";
    if (kind === "suction-union-open") {
      services.push({ work: "inspection", step: "begin", atMs: fromMs - notedMs - offMs });
      stops.push({ fromMs: fromMs - offMs, toMs: fromMs + minute });
      // Whoever switched it on leaves once it has been seen to run, before it could have drawn water.
      const seenMs = Math.max(minute, 2 * intervalMs);
      services.push({ work: "inspection", step: "end", atMs: fromMs + minute + seenMs });
    }
    if (mendedOnVisit(kind)) {
      services.push({ work, step: "begin", atMs: toMs - notedMs });
      stops.push({ fromMs: toMs, toMs: toMs + offMs, cleaned });
      services.push({ work, step: "end", atMs: toMs + offMs + watchedMs });
    }
  }
  services.sort((a, b) => a.atMs - b.atMs);
  return { ...unit, stops, services };
}

const mendThemselves: ReadonlySet<FaultKind> = new Set([
  "supply-lost",
  "voltage-low",
  "logger-silent",
  "clock-set-back",
  "frost",
]);

function mendedOnVisit(kind: FaultKind): boolean {
  return !mendThemselves.has(kind);
}
