import type { Told } from "../score/told.ts";
import { visible } from "../terms/text.ts";
import { iso } from "../terms/time.ts";

/** At most so many missed faults, false alarms or differences are listed. */
const mostListed = 10;

/** An alarm on a line. */
export function toldLine({ unit, alarm, priority, timeMs }: Told): string {
  return `${visible(unit)}  ${alarm}  ${iso(timeMs)}  ${priority}`;
}

/** Lines under a title, after a blank line; nothing where there are none. */
export function listed(title: string, lines: readonly string[]): string[] {
  if (lines.length === 0) return [];
  const more = lines.length - mostListed;
  return [
    "",
    title,
    ...lines.slice(0, mostListed).map((line) => `  ${line}`),
    ...(more > 0 ? [`  and ${more} more; --json lists all`] : []),
  ];
}
