import type { ReadingView } from "../collector/fleet-view.ts";
import { type Line, span } from "./line.ts";
import { standing } from "./reading-text.ts";

/**
 * A reading on its own scale, `width` columns (3 or more): where it stands in its normal band and
 * against its limits, as the moving analog indicators of ANSI/ISA-101.01 show it.
 *
 * `├──━━●━━──┤`: limit, normal band, pointer, limit. A value past the end of the scale is an arrow
 * there. Blank where the unit has neither baseline nor limits for it.
 */
export function indicator(reading: ReadingView, width: number): Line {
  const scale = scaleOf(reading);
  if (scale === null || width < 3) return [span(" ".repeat(Math.max(0, width)))];
  const cellOf = (value: number): number => {
    const cell = Math.round(((value - scale.low) / (scale.high - scale.low)) * (width - 1));
    return Math.min(width - 1, Math.max(0, cell));
  };
  const cells = Array.from({ length: width }, () => "─");
  if (reading.normal !== null) {
    const last = cellOf(reading.normal.high);
    for (let cell = cellOf(reading.normal.low); cell <= last; cell++) cells[cell] = "━";
  }
  if (reading.limitLow !== null) cells[cellOf(reading.limitLow)] = "├";
  if (reading.limitHigh !== null) cells[cellOf(reading.limitHigh)] = "┤";
  const { value } = reading;
  if (value === null || !Number.isFinite(value)) return [span(cells.join(""), "dim")];
  const offScale = value < scale.low ? "‹" : value > scale.high ? "›" : null;
  const at = cellOf(value);
  const place = standing(reading);
  const style = place === "past limit" ? "selected" : place === "outside" ? "strong" : "plain";
  return [
    span(cells.slice(0, at).join(""), "dim"),
    span(offScale ?? "●", style),
    span(cells.slice(at + 1).join(""), "dim"),
  ];
}

/** From limit to limit; where a limit is not known, three half-widths of the normal band stand for it. */
export function scaleOf(reading: ReadingView): { readonly low: number; readonly high: number } | null {
  const { normal, limitLow, limitHigh } = reading;
  if (normal === null) {
    if (limitLow === null && limitHigh === null) return null;
    const known = limitHigh ?? limitLow ?? 0;
    const reach = Math.max(Math.abs(known), 1);
    return ordered(limitLow ?? known - reach, limitHigh ?? known + reach);
  }
  const half = Math.max(normal.high - normal.center, normal.center - normal.low, 1e-9);
  return ordered(
    Math.min(limitLow ?? normal.center - 3 * half, normal.low),
    Math.max(limitHigh ?? normal.center + 3 * half, normal.high),
  );
}

function ordered(low: number, high: number): { readonly low: number; readonly high: number } {
  return high > low ? { low, high } : { low: low - 1, high: low + 1 };
}
