import type { AlarmView, UnitView } from "../../collector/fleet-view.ts";
import { counted } from "../../terms/text.ts";
import { age } from "../../terms/time.ts";
import { alarmWords, priorityMark } from "../words.ts";
import type { Prepared, Speaking } from "./prepared.ts";

/** Whether an alarm waits for somebody's acknowledgement. */
function isUnanswered({ state, latched, returnedMs }: AlarmView): boolean {
  if (state === "active-unacknowledged" || state === "returned-unacknowledged") return true;
  return latched === true && returnedMs !== undefined && state === "active-acknowledged";
}

export function unanswered(unit: UnitView): readonly AlarmView[] {
  return unit.alarms.filter(isUnanswered);
}

/** An alarm of a unit, as it was seen. */
export interface Seen {
  readonly unit: UnitView;
  readonly alarm: AlarmView;
}

/** What waits to be acknowledged at these units. */
export function waitingAt(units: readonly UnitView[]): readonly Seen[] {
  return units.flatMap((unit) => unanswered(unit).map((alarm) => ({ unit, alarm })));
}

/** Acknowledges alarms, one at least, as they were seen: a newer raising is not meant. */
export function acknowledgement(
  seen: readonly Seen[],
  where: string,
  { by }: Speaking,
  note: string,
  asks: string | null = null,
): Prepared {
  const what = `${where}: ${alarmsWords(seen)}`;
  return {
    what: `${what}, acknowledge`,
    asks,
    said: (atMs) =>
      seen.map(({ unit, alarm: { alarm, raisedMs } }) => ({
        kind: "word",
        word: {
          id: crypto.randomUUID(),
          atMs,
          unit: unit.id,
          alarm,
          action: "acknowledge",
          by,
          raisedMs,
          ...(note !== "" && { note }),
        },
      })),
    done: () => `${what} acknowledged by ${by}`,
    first: (atMs, view) => {
      const others: { seen: Seen; by: string; atMs: number }[] = [];
      for (const one of seen) {
        const now = view.units
          .find(({ id }) => id === one.unit.id)
          ?.alarms.find(
            ({ alarm, raisedMs }) => alarm === one.alarm.alarm && raisedMs === one.alarm.raisedMs,
          );
        // Acknowledged after its return, it is gone.
        if (now === undefined) continue;
        if (now.acknowledged === undefined) return undefined;
        const first = now.acknowledged;
        if (first.by !== by || first.atMs !== atMs) others.push({ seen: one, ...first });
      }
      const [first] = others;
      if (first === undefined) return null;
      const mine = seen.filter((one) => !others.some((other) => other.seen === one));
      const theirs = `${alarmsWords(others.map((other) => other.seen))} ${others.length === 1 ? "was" : "were"} acknowledged by ${first.by} ${before(atMs - first.atMs)}`;
      return mine.length === 0
        ? `${where}: ${theirs}`
        : `${where}: ${alarmsWords(mine)} acknowledged by ${by}; ${theirs}`;
    },
  };
}

/** How long before somebody else had said it. */
export function before(ms: number): string {
  return ms < 1000 ? "at the same moment" : `${age(ms)} before`;
}

/** Alarms by name, so that nobody acknowledges what they have not read. */
export function named(seen: readonly Seen[]): string {
  return seen.map(({ alarm }) => `${priorityMark[alarm.priority]} ${alarmWords(alarm.alarm)}`).join(", ");
}

function alarmsWords(seen: readonly Seen[]): string {
  const [first] = seen;
  return first !== undefined && seen.length === 1
    ? alarmWords(first.alarm.alarm)
    : counted(seen.length, "alarm");
}
