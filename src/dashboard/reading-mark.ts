import type { UnitHistory } from "../collector/fleet-view.ts";
import { type Line, type Span, span } from "./line.ts";

/** The column of the mark in a chart so wide; null where it lies outside. */
export function markColumn(
  { fromMs, toMs }: Pick<UnitHistory, "fromMs" | "toMs">,
  markMs: number | null,
  width: number,
): number | null {
  if (markMs === null) return null;
  const column = Math.floor(((markMs - fromMs) / (toMs - fromMs)) * width + 1e-6);
  return column < 0 || column >= width ? null : column;
}

/** A row of a chart, a character a column, with the mark's line through it. */
export function markedRow(cells: string, column: number | null, style: Span["style"] = "plain"): Line {
  if (column === null) return [span(cells, style)];
  return [span(cells.slice(0, column), style), span("│", "strong"), span(cells.slice(column + 1), style)];
}

/** What was read in the mark's column, else the last reading before that still counts; null where there is none. */
export function readAt(
  { timeMs, fromMs, toMs, heldMs }: UnitHistory,
  { low, high }: { readonly low: readonly number[]; readonly high: readonly number[] },
  column: number,
  width: number,
): { readonly low: number; readonly high: number } | null {
  const each = (toMs - fromMs) / width;
  const beganMs = fromMs + column * each;
  let least = Number.NaN;
  let most = Number.NaN;
  let last = -1;
  for (const [k, ms] of timeMs.entries()) {
    if (ms >= beganMs + each) break;
    if (Number.isNaN(low[k] ?? Number.NaN)) continue;
    last = k;
    if (ms < beganMs) continue;
    if (!(low[k] >= least)) least = low[k];
    if (!(high[k] <= most)) most = high[k];
  }
  if (!Number.isNaN(least)) return { low: least, high: most };
  return last >= 0 && beganMs - timeMs[last] <= heldMs ? { low: low[last], high: high[last] } : null;
}
