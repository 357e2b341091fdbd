import { parseInstant } from "../fleet/instant.ts";
import { nearest } from "../fleet/nearest.ts";
import { quoted } from "../fleet/quantity.ts";
import { alarmNames, priorities } from "../terms/alarms.ts";
import { visible } from "../terms/text.ts";
import type { Told } from "./told.ts";

const kinds = ["raised", "unsuppressed", "cleared", "suppressed"] as const;

const howTo = "write the events with `tarnwatch replay FLEET --events FILE`";

function isOneOf<Word extends string>(value: unknown, words: readonly Word[]): value is Word {
  return (words as readonly unknown[]).includes(value);
}

/** One line's event; undefined where it neither begins nor ends an alarm; a sentence where it is no event. */
function eventOf(line: string): Told | undefined | string {
  let cells: unknown;
  try {
    cells = JSON.parse(line);
  } catch {
    return `it is not JSON; ${howTo}`;
  }
  if (typeof cells !== "object" || cells === null || Array.isArray(cells)) return `it is no event; ${howTo}`;
  const { time, unit, alarm, event: kind, priority } = cells as Record<string, unknown>;
  if (typeof kind !== "string") return `it has no event; ${howTo}`;
  if (!isOneOf(kind, kinds)) return undefined;
  const timeMs = typeof time === "string" ? parseInstant(time) : undefined;
  if (timeMs === undefined)
    return `time: ${quoted(time)} is not a time like 2026-05-04T03:12:20.000Z; ${howTo}`;
  if (typeof unit !== "string" || unit === "") return `unit: ${quoted(unit)} is no unit; ${howTo}`;
  if (!isOneOf(alarm, alarmNames)) {
    return `alarm: ${quoted(alarm)} is not an alarm; the nearest is ${nearest(String(alarm), alarmNames)}`;
  }
  if (!isOneOf(priority, priorities)) {
    return `priority: ${quoted(priority)} is no priority; write ${priorities.join(", ")}`;
  }
  return { unit, alarm, kind, priority, timeMs };
}

/**
 * What begins and ends alarms in a file of events, a JSON object a line, in order of time; events of one time
 * stay as written. `path` is the file as the user named it. The first line that is no event is the problem.
 */
export function readEvents(
  text: string,
  path: string,
): { readonly told: readonly Told[] } | { readonly problem: string } {
  const told: Told[] = [];
  for (const [i, line] of text
    .replace(/^\ufeff/, "")
    .split("\n")
    .entries()) {
    if (line.trim() === "") continue;
    const event = eventOf(line);
    if (typeof event === "string") return { problem: `${visible(path)}:${i + 1} ${event}` };
    if (event !== undefined) told.push(event);
  }
  return { told: told.sort((a, b) => a.timeMs - b.timeMs) };
}
