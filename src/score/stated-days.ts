import { parseInstant } from "../fleet/instant.ts";
import { quoted } from "../fleet/quantity.ts";
import { day } from "../terms/time.ts";

/** A comment about anything else does not go on with a figure. */
const spanComment = /^\ufeff?\s*#\s*(units|from|to)\s+(\d.*?)\s*$/;

/**
 * The unit-days that a file's comments state: `# units 40`, `# from 2026-05-01T00:00:00Z`, `# to …`. All three are
 * needed: undefined where one lacks. Problems are a line each, beginning with the line's number.
 */
export function statedUnitDays(text: string): {
  readonly unitDays: number | undefined;
  readonly problems: readonly string[];
} {
  const problems: string[] = [];
  const said: Partial<Record<string, { readonly value: number; readonly line: number }>> = {};
  for (const [i, lineText] of text.split("\n").entries()) {
    const [, key, cell] = spanComment.exec(lineText) ?? [];
    if (key === undefined) continue;
    const value = key === "units" ? Number(cell) : parseInstant(cell);
    if (value !== undefined && value > 0) said[key] = { value, line: i + 1 };
    else if (key === "units")
      problems.push(`${i + 1} # units ${quoted(cell)} is no number above 0; write # units 40`);
    else
      problems.push(
        `${i + 1} # ${key} ${quoted(cell)} is not a time with its offset; write # ${key} 2026-05-04T00:00:00Z`,
      );
  }
  const { units, from, to } = said;
  if (units === undefined || from === undefined || to === undefined) return { unitDays: undefined, problems };
  if (to.value <= from.value)
    problems.push(`${to.line} # to is not after # from; write the earlier time as # from`);
  return { unitDays: (units.value * (to.value - from.value)) / day, problems };
}
