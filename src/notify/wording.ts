import { visible } from "../terms/text.ts";
import { day } from "../terms/time.ts";
import { mostAlarms } from "./content.ts";
import type { Plan } from "./plan.ts";

/** One message of the short message service in its 7-bit alphabet (3GPP TS 23.038, 23.040: 140 octets). */
const longestSubject = 160;

/** Names in a row, the first ten of them. */
export function listed(names: readonly string[]): string {
  const more = names.length - mostAlarms;
  return more > 0 ? `${names.slice(0, mostAlarms).join(", ")} and ${more} more` : names.join(", ");
}

const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** A moment by the clock of the fleet's zone, with its date on another day. */
export function clock(timeMs: number, { localOf }: Plan, nowMs: number): string {
  const local = new Date(localOf(timeMs));
  const time = local.toISOString().slice(11, 16);
  const isToday = Math.floor(local.getTime() / day) === Math.floor(localOf(nowMs) / day);
  return isToday ? time : `${local.getUTCDate()} ${months[local.getUTCMonth()]} ${time}`;
}

/** The longest beginning that fits in one short message, by whole words. */
export function cut(text: string): string {
  const line = visible(text);
  if (line.length <= longestSubject) return line;
  const short = line.slice(0, longestSubject - 3).replace(/[\uD800-\uDBFF]$/, "");
  const end = short.lastIndexOf(" ");
  return `${short.slice(0, end > longestSubject / 2 ? end : undefined).replace(/[\s,:;]+$/, "")}...`;
}

/** Lines of text, none of which can begin another or move a cursor. */
export function lines(...all: readonly string[]): string {
  return all.map(visible).join("\n");
}
