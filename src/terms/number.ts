/** `x` rounded to four significant digits, as evidence carries it. */
export function fourDigits(x: number): number {
  return Number.isFinite(x) ? Number(x.toPrecision(4)) : x;
}
