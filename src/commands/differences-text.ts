import type { Differences } from "../replay/differences.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { counted, visible } from "../terms/text.ts";
import { iso, span } from "../terms/time.ts";

/** What another replay tells otherwise: a line each in the order of time, and a line that counts. */
export function differenceLines({ gone, come, moved, same }: Differences): string[] {
  const lines = [
    ...gone.map((event) => ({ timeMs: event.timeMs, text: `gone   ${named(event)}: ${event.message}` })),
    ...come.map((event) => ({ timeMs: event.timeMs, text: `come   ${named(event)}: ${event.message}` })),
    ...moved.map(({ before, after }) => ({
      timeMs: after.timeMs,
      text: `moved  ${named(after)}: ${change(before, after)}`,
    })),
  ];
  const total = come.length + moved.length + same;
  const counts = `${gone.length} gone, ${come.length} come, ${moved.length} moved, ${same} as before`;
  return [
    ...lines.sort((a, b) => a.timeMs - b.timeMs).map(({ text }) => visible(text)),
    `${counted(total, "event")}: ${counts}`,
  ];
}

function named({ timeMs, unit, event, alarm, by }: AlarmEvent): string {
  return `${iso(timeMs)} ${unit} ${event} ${alarm}${by === undefined ? "" : ` by ${by}`}`;
}

function change(before: AlarmEvent, after: AlarmEvent): string {
  const byMs = after.timeMs - before.timeMs;
  const told = [];
  if (byMs !== 0) told.push(`${span(byMs)} ${byMs > 0 ? "later" : "earlier"}`);
  if (after.sinceMs !== before.sinceMs) told.push(`since ${iso(after.sinceMs)}`);
  if (after.priority !== before.priority) told.push(`${before.priority} → ${after.priority}`);
  if (after.by !== before.by) told.push("by another cause");
  if (after.message !== before.message) told.push(after.message);
  return told.length === 0 ? "other evidence" : told.join("; ");
}
