/** Bounds of a column over some rows; NaN both where a value is missing. */
export interface Extremes {
  readonly least: number;
  readonly greatest: number;
}

export const unknownExtremes: Extremes = { least: Number.NaN, greatest: Number.NaN };

/** The least and the greatest value of rows `from…to`. */
export function extremesOf(column: Float64Array, from: number, to: number): Extremes {
  let least = column[from];
  let greatest = least;
  for (let row = from; row < to; row++) {
    const x = column[row];
    if (Number.isNaN(x)) return unknownExtremes;
    if (x < least) least = x;
    if (x > greatest) greatest = x;
  }
  return { least, greatest };
}

/** The shortest and the longest step from reading to reading, from the one at `previousMs` on, ms. */
export function stepsMs(timeMs: Float64Array, from: number, to: number, previousMs: number): Extremes {
  let least = Number.POSITIVE_INFINITY;
  let greatest = 0;
  let before = previousMs;
  for (let row = from; row < to; row++) {
    const step = timeMs[row] - before;
    if (step < least) least = step;
    if (step > greatest) greatest = step;
    before = timeMs[row];
  }
  return { least, greatest };
}
