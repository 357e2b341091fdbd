import type { ChartRows } from "./chart-place.ts";

/** Rows that the charts' title and axis take of a screen at most. */
export const mostPinned = 3;

/**
 * Which lines stand in sight though they are scrolled past: for rows of a window of `height` that begins at line `first`,
 * the line that is shown there instead. The charts' title is kept at the top, their time axis below what is seen of the
 * strips, or under the title where only what lies beneath the axis is seen.
 */
export function pinnedLines(
  { from, to, axis }: ChartRows,
  first: number,
  height: number,
): ReadonlyMap<number, number> {
  const pinned = new Map<number, number>();
  const last = first + height - 1;
  if (axis === null || to - 1 <= first + mostPinned || from + 1 > last - 2) return pinned;
  const isTitleAbove = first > from;
  if (isTitleAbove) pinned.set(0, from);
  if (axis + 1 > last) pinned.set(height - 2, axis).set(height - 1, axis + 1);
  else if (axis < first + (isTitleAbove ? 1 : 0)) pinned.set(1, axis).set(2, axis + 1);
  return pinned;
}
