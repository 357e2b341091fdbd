/** Lines of a log as ranges, first and last included, by rising line. Plain data, never changed in place. */
export type LineRanges = readonly (readonly [number, number])[];

const mostRanges = 100;

/** The ranges with a line more, which comes after them; of more than 100 ranges the first is let go. */
export function withLine(ranges: LineRanges, line: number): LineRanges {
  const last = ranges.at(-1);
  if (last !== undefined && line <= last[1]) return ranges;
  if (last?.[1] === line - 1) return [...ranges.slice(0, -1), [last[0], line]];
  return [...ranges.slice(1 - mostRanges), [line, line]];
}

/** Whether a line is in one of the ranges. */
export function hasLine(ranges: LineRanges, line: number): boolean {
  return ranges.some(([first, last]) => first <= line && line <= last);
}
