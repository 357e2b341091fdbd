import type { AlarmName } from "../terms/alarms.ts";
import { day, minute } from "../terms/time.ts";
import { activeSpells, isRaise, looksAtClock, type Told } from "./told.ts";
import type { Fault } from "./truth.ts";

/** How long after a fault's end another alarm may still come of it. */
const companionMs = 30 * minute;

/** Until when a fault's own alarm catches it. A slow drift has a day more, others ten minutes. */
function caughtUntilMs({ alarm, endMs }: Fault): number {
  return endMs + (alarm === "gas-pressure-drift" ? day : 10 * minute);
}

export interface HeldFault {
  readonly fault: Fault;
  /** From its start to the alarm that caught it; null where it was missed. */
  readonly delayMs: number | null;
  /** Whether its alarm was active at its unit already when it began. */
  readonly alreadyActive: boolean;
  /** The first alarm in its time that did not catch another fault; clocks left out. */
  readonly first: AlarmName | null;
}

export interface HeldRaise {
  readonly raise: Told;
  readonly as: "catch" | "companion" | "false";
}

/** Known faults and raised alarms, held against each other. */
export interface Held {
  /** As given. */
  readonly faults: readonly HeldFault[];
  /** In order of time. */
  readonly raises: readonly HeldRaise[];
}

/**
 * Which alarm caught which fault, by the alarm; all of one name at one unit, alarms in order of time. One alarm
 * counts for one fault at most: of those that it may catch and that nothing caught yet, for the one whose time
 * runs out first. No other choice catches more (Glover, "Maximum matching in a convex bipartite graph", 1967,
 * from memory).
 */
function catches(faults: readonly Fault[], raises: readonly Told[]): (readonly [Told, Fault])[] {
  const open = faults.toSorted((a, b) => caughtUntilMs(a) - caughtUntilMs(b) || a.startMs - b.startMs);
  return raises.flatMap((raise) => {
    const at = open.findIndex((fault) => within(raise, fault, caughtUntilMs(fault)));
    return at < 0 ? [] : open.splice(at, 1).map((fault) => [raise, fault] as const);
  });
}

const nameAt = ({ alarm, unit }: { readonly alarm: AlarmName; readonly unit: string }) => `${alarm} ${unit}`;

function within({ timeMs }: Told, { startMs }: Fault, untilMs: number): boolean {
  return timeMs >= startMs && timeMs <= untilMs;
}

/** Whether an alarm may come of a fault at its unit: by its time, or as the fault's own alarm once more. */
function mayComeOf(raise: Told, fault: Fault): boolean {
  if (within(raise, fault, fault.endMs + companionMs)) return true;
  return raise.alarm === fault.alarm && within(raise, fault, caughtUntilMs(fault));
}

/** Holds alarms against faults. `told` in order of time. */
export function hold(faults: readonly Fault[], told: readonly Told[]): Held {
  const raises = told.filter(isRaise);
  const spellsOf = Map.groupBy(activeSpells(told), nameAt);
  const raisesOfName = Map.groupBy(raises, nameAt);
  const caught = new Map(
    [...Map.groupBy(faults, nameAt)].flatMap(([name, same]) => catches(same, raisesOfName.get(name) ?? [])),
  );
  const catcher = new Map([...caught].map(([raise, fault]) => [fault, raise]));
  const faultsOf = Map.groupBy(faults, ({ unit }) => unit);
  const raisesOf = Map.groupBy(raises, ({ unit }) => unit);
  return {
    faults: faults.map((fault) => {
      const { unit, startMs } = fault;
      const by = catcher.get(fault);
      const first = raisesOf
        .get(unit)
        ?.find(
          (raise) =>
            !looksAtClock(raise.alarm) && mayComeOf(raise, fault) && (caught.get(raise) ?? fault) === fault,
        );
      return {
        fault,
        delayMs: by === undefined ? null : by.timeMs - startMs,
        alreadyActive: (spellsOf.get(nameAt(fault)) ?? []).some(
          ({ fromMs, toMs }) => fromMs < startMs && toMs > startMs,
        ),
        first: first?.alarm ?? null,
      };
    }),
    raises: raises.map((raise) => {
      if (caught.has(raise)) return { raise, as: "catch" };
      const companion = faultsOf.get(raise.unit)?.some((fault) => mayComeOf(raise, fault)) ?? false;
      return { raise, as: companion ? "companion" : "false" };
    }),
  };
}
