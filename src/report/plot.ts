import { html, type Markup, nothing } from "./html.ts";
import type { Interval } from "./intervals.ts";
import type { LocalTimes } from "./local.ts";
import type { Point } from "./points.ts";
import { roundNumbers, roundTimes } from "./ticks.ts";

/** One signal over a period, drawn. Values as people see them. */
export interface Plot {
  /** Unique on its page. */
  readonly id: string;
  readonly title: string;
  /** The same told in words. */
  readonly description: string;
  readonly period: Interval;
  readonly points: readonly Point[];
  readonly baseline: number | null;
}

const width = 720;
const height = 170;
const left = 52;
const right = 70;
const top = 10;
const bottom = 22;

/** A plot as SVG: a line of means within a band from least to most, broken where nothing was read; a dashed baseline. */
export function plotMarkup(plot: Plot, times: LocalTimes): Markup {
  const { id, title, description, period, points, baseline } = plot;
  const values = [
    ...points.flatMap(({ least, most }) => [least, most]),
    ...(baseline === null ? [] : [baseline]),
  ];
  const [least, most] = atLeastSpan(Math.min(...values), Math.max(...values));
  const numbers = roundNumbers(least, most);
  const low = numbers[0];
  const high = numbers[numbers.length - 1];
  const x = (timeMs: number): string =>
    tenths(left + ((timeMs - period.fromMs) / (period.toMs - period.fromMs)) * (width - left - right));
  const y = (value: number): string =>
    tenths(top + ((high - value) / (high - low)) * (height - top - bottom));
  const middle = ({ fromMs, toMs }: Interval): number =>
    (Math.max(fromMs, period.fromMs) + Math.min(toMs, period.toMs)) / 2;
  const runs = unbroken(points);
  const line = (run: readonly Point[], of: (point: Point) => number): string =>
    run.map((point) => `${x(middle(point))},${y(of(point))}`).join(" ");
  return html`<svg viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="${id}-t ${id}-d">
<title id="${id}-t">${title}</title><desc id="${id}-d">${description}</desc>
${numbers.map((value) => html`<path class="axis" stroke-opacity="0.35" d="M${left} ${y(value)}H${width - right}"/><text x="${left - 6}" y="${y(value)}" dy="4" text-anchor="end">${numberText(value, numbers)}</text>`)}
${roundTimes(period, times).map(({ timeMs, text }) => html`<path class="axis" d="M${x(timeMs)} ${height - bottom}v4"/><text x="${x(timeMs)}" y="${height - 6}" text-anchor="middle">${text}</text>`)}
<path class="axis" d="M${left} ${top}V${height - bottom}H${width - right}"/>
${runs.map((run) => html`<polygon class="band" points="${line(run, ({ most }) => most)} ${line(run.toReversed(), ({ least }) => least)}"/>`)}
${runs.map((run) =>
  run.length === 1
    ? html`<circle class="alone" r="2" cx="${x(middle(run[0]))}" cy="${y(run[0].mean)}"/>`
    : html`<polyline class="mean" points="${line(run, ({ mean }) => mean)}"/>`,
)}
${
  baseline === null
    ? nothing
    : html`<path class="baseline" d="M${left} ${y(baseline)}H${width - right}"/><text x="${width - right + 5}" y="${y(baseline)}" dy="4">baseline</text>`
}
</svg>
`;
}

/** So much of the largest reading an axis spans at least: else the noise of a steady one fills it (house choice). */
const leastShare = 0.2;
/** A gauge at rest that reads so little below zero, as a share of its largest reading, reads zero (house choice). */
const noise = 0.02;

/** The ends of an axis, widened about their middle where they lie close together; past zero only where a reading is. */
function atLeastSpan(lowest: number, high: number): readonly [number, number] {
  const low = lowest < 0 && -lowest < noise * high ? 0 : lowest;
  const lacking = leastShare * Math.max(Math.abs(low), Math.abs(high)) - (high - low);
  if (lacking <= 0) return [low, high];
  const ends = [low - lacking / 2, high + lacking / 2] as const;
  return [low >= 0 ? Math.max(0, ends[0]) : ends[0], high <= 0 ? Math.min(0, ends[1]) : ends[1]];
}

function tenths(n: number): string {
  return String(Math.round(10 * n) / 10);
}

function numberText(value: number, [first, second]: readonly number[]): string {
  const decimals = Math.max(0, -Math.floor(Math.log10(second - first) + 1e-9));
  return value.toFixed(decimals);
}

/** Points in runs without a stretch between them in which nothing was read. */
function unbroken(points: readonly Point[]): Point[][] {
  const runs: Point[][] = [];
  for (const point of points) {
    const run = runs.at(-1);
    if (run?.at(-1)?.toMs === point.fromMs) run.push(point);
    else runs.push([point]);
  }
  return runs;
}
