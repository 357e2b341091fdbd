import type { AlarmName, Priority } from "../terms/alarms.ts";

/** A line of an event file that begins or ends an alarm. */
export interface Told {
  readonly unit: string;
  readonly alarm: AlarmName;
  readonly kind: "raised" | "unsuppressed" | "cleared" | "suppressed";
  readonly priority: Priority;
  readonly timeMs: number;
}

/** Whether an alarm is raised with it: a suppressed alarm that outlives its cause counts as raised. */
export function isRaise({ kind }: Told): boolean {
  return kind === "raised" || kind === "unsuppressed";
}

/** A stretch in which an alarm is active at a unit and not suppressed, from `fromMs` to before `toMs`. */
export interface Spell {
  readonly unit: string;
  readonly alarm: AlarmName;
  readonly fromMs: number;
  /** +∞ where nothing ends it. */
  readonly toMs: number;
}

/**
 * The stretches in which each alarm is active, in order of their ends. While it is suppressed an alarm is not:
 * its cause is. `told` in order of time.
 */
export function activeSpells(told: readonly Told[]): Spell[] {
  const open = new Map<string, Told>();
  const spells: Spell[] = [];
  for (const event of told) {
    const { unit, alarm, timeMs } = event;
    const key = `${alarm} ${unit}`;
    const begun = open.get(key);
    if (isRaise(event)) {
      if (begun === undefined) open.set(key, event);
    } else if (begun !== undefined) {
      spells.push({ unit, alarm, fromMs: begun.timeMs, toMs: timeMs });
      open.delete(key);
    }
  }
  for (const { unit, alarm, timeMs } of open.values()) {
    spells.push({ unit, alarm, fromMs: timeMs, toMs: Number.POSITIVE_INFINITY });
  }
  return spells;
}

/** Alarms that look at a clock and not at the water: scored apart from the others. */
export function looksAtClock(alarm: AlarmName): boolean {
  return alarm === "readings-stale" || alarm === "clock-fault" || alarm === "service-overdue";
}
