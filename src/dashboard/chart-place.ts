import type { Command } from "./keys.ts";
import { firstZoom, zoomOf, zooms } from "./zoom.ts";

/** Which time the charts show, and what is read off them. */
export interface ChartPlace {
  readonly zoom: number;
  /** Its end, ms; null: it goes on with the clock. */
  readonly endMs: number | null;
  /** The time at which every channel is read off; `goesOn`: the charts go on with the clock once it is away. */
  readonly mark: { readonly timeMs: number; readonly goesOn: boolean } | null;
}

export const firstChartPlace: ChartPlace = { zoom: firstZoom, endMs: null, mark: null };

/** A time in points of equal length. */
export interface ChartWindow {
  readonly fromMs: number;
  readonly toMs: number;
  readonly points: number;
}

/** The time that is shown; its points stay where they are while the clock goes on. */
export function windowOf({ zoom, endMs }: ChartPlace, clockMs: number, points: number): ChartWindow {
  const { ms } = zoomOf(zoom);
  const step = ms / points;
  const toMs = Math.ceil((endMs ?? clockMs) / step) * step;
  return { fromMs: toMs - ms, toMs, points };
}

export interface ChartSurroundings {
  readonly clockMs: number;
  readonly window: ChartWindow;
  /** How many columns the window takes on the screen. */
  readonly columns: number;
  /** Nothing is known before, ms; null: that is not known yet. */
  readonly knownFromMs: number | null;
}

/** The place after `command`; undefined where that is not for the charts. */
export function movedInCharts(
  place: ChartPlace,
  command: Command,
  around: ChartSurroundings,
): ChartPlace | undefined {
  const { mark } = place;
  const { window, columns } = around;
  const reachMs = window.toMs - window.fromMs;
  switch (command) {
    case "less time":
      return zoomed(place, -1, around);
    case "more time":
      return zoomed(place, 1, around);
    case "earlier":
      return shifted(place, -halfOf(window), around);
    case "later":
      return shifted(place, halfOf(window), around);
    case "newest":
      return { ...place, endMs: null, mark: null };
    case "mark":
      if (mark !== null) return unmarked(place);
      return {
        ...place,
        endMs: window.toMs,
        mark: { timeMs: window.fromMs + reachMs / 2, goesOn: place.endMs === null },
      };
    case "left":
    case "right":
      return mark === null
        ? undefined
        : markMoved(place, (command === "left" ? -1 : 1) * (reachMs / columns), around);
    case "back":
      return mark === null ? undefined : unmarked(place);
    default:
      return undefined;
  }
}

function unmarked(place: ChartPlace): ChartPlace {
  return { ...place, mark: null, endMs: place.mark?.goesOn ? null : place.endMs };
}

/** Half of the window, in whole points, so that what is drawn only moves. */
function halfOf({ fromMs, toMs, points }: ChartWindow): number {
  return ((toMs - fromMs) / points) * Math.floor(points / 2);
}

/** Time goes on and off at the mark, else at the middle; charts that go on with the clock keep their end. */
function zoomed(place: ChartPlace, by: number, { clockMs, window }: ChartSurroundings): ChartPlace {
  const zoom = Math.max(0, Math.min(zooms.length - 1, place.zoom + by));
  if (place.endMs === null || zoom === place.zoom) return { ...place, zoom };
  const middleMs = place.mark?.timeMs ?? (window.fromMs + window.toMs) / 2;
  const endMs = Math.min(middleMs + zoomOf(zoom).ms / 2, clockMs);
  return { ...place, zoom, endMs };
}

function shifted(place: ChartPlace, byMs: number, { clockMs, window, knownFromMs }: ChartSurroundings) {
  const reachMs = window.toMs - window.fromMs;
  // Half of what is shown is known at least.
  const leastMs = (knownFromMs ?? Number.NEGATIVE_INFINITY) + reachMs / 2;
  const endMs = window.toMs + byMs;
  if (byMs < 0 && endMs < leastMs) return place;
  const mark = place.mark && { timeMs: place.mark.timeMs + byMs, goesOn: false };
  if (endMs < clockMs) return { ...place, endMs, mark };
  if (mark === null) return { ...place, endMs: null };
  const moved = Math.min(byMs, Math.max(0, clockMs - window.toMs));
  return {
    ...place,
    endMs: window.toMs + moved,
    mark: { timeMs: mark.timeMs - byMs + moved, goesOn: place.mark?.goesOn ?? false },
  };
}

/** The mark a column on; past an end of the window the window moves with it. */
function markMoved(place: ChartPlace, byMs: number, around: ChartSurroundings): ChartPlace {
  const { window } = around;
  if (place.mark === null) return place;
  const timeMs = place.mark.timeMs + byMs;
  const mark = { ...place.mark, timeMs };
  if (timeMs >= window.fromMs && timeMs < window.toMs) return { ...place, mark };
  const there = shifted(place, Math.sign(byMs) * halfOf(window), around);
  const endMs = there.endMs ?? window.toMs;
  return endMs === window.toMs ? place : { ...there, endMs, mark: { timeMs, goesOn: false } };
}

/** The first row on the screen such that the charts, in rows `from` up to `to`, are in sight. */
export function topWithCharts(
  top: number,
  height: number,
  { from, to }: Pick<ChartRows, "from" | "to">,
): number {
  return from >= top + height || to <= top ? from : top;
}

/** The rows that the charts take among those that scroll. */
export interface ChartRows {
  readonly from: number;
  readonly to: number;
  /** The first of the two rows of their time axis; null where there is none yet. */
  readonly axis: number | null;
}
