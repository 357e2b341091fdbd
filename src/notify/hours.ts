import type { Duty, Hours, Notify, Rota } from "../fleet/notify.ts";
import type { Priority } from "../terms/alarms.ts";
import { day, minute } from "../terms/time.ts";

/** Minutes after midnight of a wall clock's time (ms, as if it stood in UTC). */
function minuteOf(localMs: number): number {
  return (((localMs % day) + day) % day) / minute;
}

/** Whether a wall clock's time lies in any of some stretches of the day. */
export function isWithin(hours: readonly Hours[], localMs: number): boolean {
  const now = minuteOf(localMs);
  return hours.some(({ from, to }) => (from < to ? now >= from && now < to : now >= from || now < to));
}

const wholeDay: readonly Hours[] = [{ from: 0, to: 24 * 60 }];

/** Whether a duty holds. Hours that pass midnight belong to the day on which they begin. */
function holds({ days, hours = wholeDay, fromDay = 0, untilDay = Infinity }: Duty, localMs: number): boolean {
  const now = minuteOf(localMs);
  return hours.some(({ from, to }) => {
    if (!isWithin([{ from, to }], localMs)) return false;
    const began = new Date(from > to && now < to ? localMs - day : localMs);
    const date = began.getUTCFullYear() * 10_000 + (began.getUTCMonth() + 1) * 100 + began.getUTCDate();
    return (days?.includes(began.getUTCDay()) ?? true) && date >= fromDay && date <= untilDay;
  });
}

/** Who is on call; undefined in a gap. */
export function onCall({ duties }: Rota, localMs: number): string | undefined {
  return duties.find((duty) => holds(duty, localMs))?.way;
}

/**
 * The ways behind names of ways and rotas, each once. Where a rota has nobody on call, a high alarm goes to
 * everybody in it, and others to nobody.
 */
export function waysOf(
  names: readonly string[],
  { rotas }: Pick<Notify, "rotas">,
  priority: Priority,
  localMs: number,
): readonly string[] {
  const found = names.flatMap((name) => {
    const rota = rotas.find((known) => known.name === name);
    if (rota === undefined) return [name];
    const way = onCall(rota, localMs);
    if (way !== undefined) return [way];
    return priority === "high" ? rota.duties.map((duty) => duty.way) : [];
  });
  return [...new Set(found)];
}

/** When planned work tells nobody, whatever the quiet hours (house choice). */
const night: readonly Hours[] = [{ from: 21 * 60, to: 7 * 60 }];

/** Whether an alarm waits for the end of the quiet hours, or a prompt for the day. A high one never does. */
export function mustWait(priority: Priority, quietHours: readonly Hours[], localMs: number): boolean {
  if (priority === "high") return false;
  return isWithin(priority === "prompt" ? [...quietHours, ...night] : quietHours, localMs);
}
