import type { UnitHistory } from "../collector/fleet-view.ts";
import type { ChartWindow } from "./chart-place.ts";

/** Extremes in points of equal length. */
interface Extremes {
  low: readonly number[];
  high: readonly number[];
}

/**
 * What is known of a window by the newest answer from what is summed up, and by the newest from the logs, each of whichever
 * time: so that a key draws at once. Null where nothing of the unit is known yet.
 */
export function pastIn(
  summed: UnitHistory | null,
  read: UnitHistory | null,
  window: ChartWindow,
): UnitHistory | null {
  const meta = [read, summed].find((past) => past !== null && isOf(past, window)) ?? summed ?? read;
  if (meta === null) return null;
  const reach = window.toMs - window.fromMs;
  const step = reach / window.points;
  const readCounts =
    read !== null && (summed === null || stepOf(read) <= Math.max(1.001 * step, summed.coarsestMs));
  const layers = [summed, readCounts ? read : null].filter((past) => past !== null);
  const lay = (extremes: (past: UnitHistory) => Extremes | undefined): Extremes => {
    const low = new Array<number>(window.points).fill(Number.NaN);
    const high = new Array<number>(window.points).fill(Number.NaN);
    for (const past of layers) layOver(low, high, past, extremes(past), window);
    return { low, high };
  };
  const columns = new Map(
    layers.flatMap((past) =>
      past.signals.map(({ channel, part }) => [`${channel} ${part}`, { channel, part }] as const),
    ),
  );
  const order = (meta.signals.length > 0 ? meta : (layers[0] ?? meta)).signals;
  const rest = [...columns.values()].filter(
    (one) => !order.some(({ channel, part }) => channel === one.channel && part === one.part),
  );
  return {
    ...meta,
    fromMs: window.fromMs,
    toMs: window.toMs,
    timeMs: Array.from({ length: window.points }, (_, k) => window.fromMs + (k + 0.5) * step),
    signals: [...order, ...rest].map(({ channel, part }) => ({
      channel,
      part,
      ...lay((past) => past.signals.find((one) => one.channel === channel && one.part === part)),
    })),
    npsh: meta.npsh && { ...meta.npsh, ...lay((past) => past.npsh ?? undefined) },
  };
}

/** Whether an answer is of just this window. */
export function isOf(past: UnitHistory, { fromMs, toMs, points }: ChartWindow): boolean {
  return past.fromMs === fromMs && past.toMs === toMs && past.timeMs.length === points;
}

function stepOf({ fromMs, toMs, timeMs }: UnitHistory): number {
  return (toMs - fromMs) / Math.max(1, timeMs.length);
}

/** Writes what a past knows of each point that lies within it over what was there, gaps too. */
function layOver(
  low: number[],
  high: number[],
  past: UnitHistory,
  extremes: Extremes | undefined,
  { fromMs, toMs, points }: ChartWindow,
): void {
  const step = (toMs - fromMs) / points;
  const each = stepOf(past);
  for (let point = 0; point < points; point++) {
    const at = (fromMs + point * step - past.fromMs) / each;
    const first = Math.floor(at + 1e-6);
    const last = Math.max(first, Math.ceil(at + step / each - 1e-6) - 1);
    if (first < 0 || last >= past.timeMs.length) continue;
    let least = Number.NaN;
    let most = Number.NaN;
    for (let k = first; extremes !== undefined && k <= last; k++) {
      if (!(extremes.low[k] >= least) && !Number.isNaN(extremes.low[k])) least = extremes.low[k];
      if (!(extremes.high[k] <= most) && !Number.isNaN(extremes.high[k])) most = extremes.high[k];
    }
    low[point] = least;
    high[point] = most;
  }
}
