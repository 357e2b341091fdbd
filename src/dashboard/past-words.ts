import type { FleetView, RunningView } from "../collector/fleet-view.ts";
import { day, hour, minute, second } from "../terms/time.ts";
import { clockTime, moment } from "./local-time.ts";
import type { PastShown } from "./use-past.ts";

/** How long the motor ran in the shown time, and how often it started. */
export function runningWords(running: RunningView | null, isCurrent: boolean): string {
  if (!isCurrent) return "counting hours run and starts …";
  if (running === null) return "whether the motor ran is not in the log";
  if (running.knownMs === 0) return "no hours run are known in this time";
  const { leastMs, mostMs, knownMs, starts, startsAtLeast } = running;
  const least = hours(leastMs);
  const most = hours(mostMs);
  const ran = least === most ? most : `${least} to ${most}`;
  const times = `${starts} ${starts === 1 ? "start" : "starts"}`;
  return `the motor ran ${ran} h of ${hours(knownMs)} h read · ${startsAtLeast ? "at least " : ""}${times}`;
}

const hours = (ms: number): string => (ms / hour).toFixed(ms < 100 * hour ? 1 : 0);

/**
 * Of what the charts are drawn: of the extremes in each column, or of longer spans where there is nothing finer; and between
 * which times, and why, the logs could not refine that.
 */
export function drawnWords(
  { history, isCurrent, window }: PastShown,
  columnMs: number,
  view: Pick<FleetView, "clockMs" | "timezone">,
): string {
  if (history === null) return "";
  const stepMs = (window.toMs - window.fromMs) / window.points;
  const isCoarse = history.coarsestMs > stepMs;
  const from = isCoarse
    ? `drawn from the lowest and highest of each ${spanWords(history.coarsestMs)}`
    : `a column is the lowest and highest of ${spanWords(columnMs)}`;
  if (!isCurrent || history.refinable) return `${from} · reading the logs …`;
  const { lacking } = history;
  if (lacking.length === 0)
    return isCoarse ? `${from} · not to be refined: the logs that are left do not hold it` : from;
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  const firstMs = Math.min(...lacking.map(({ fromMs }) => fromMs));
  const lastMs = Math.max(...lacking.map(({ toMs }) => toMs));
  const [{ file, why }] = lacking;
  const more = lacking.length > 1 ? `, and ${lacking.length - 1} more` : "";
  return `${from} · not to be refined between ${at(firstMs)} and ${at(lastMs)}: ${file}: ${why}${more}`;
}

/** A length of time to two figures: `1 min`, `10 min`, `7.2 min`, `4.5 s`. */
function spanWords(ms: number): string {
  const [unit, words] = (
    [
      [day, "d"],
      [hour, "h"],
      [minute, "min"],
      [second, "s"],
    ] as const
  ).find(([each]) => ms >= each) ?? [second, "s"];
  return `${Number((ms / unit).toPrecision(2))} ${words}`;
}

/** Which time the charts show. */
export function titleWords({ place, window }: PastShown, zoom: string, view: FleetView): string {
  const time =
    place.endMs === null
      ? `The last ${zoom}`
      : `${zoom} to ${moment(Math.min(window.toMs, view.clockMs), view.clockMs, view.timezone)}`;
  return place.mark === null ? time : `${time} · mark at ${markWords(place.mark.timeMs, view)}`;
}

/** The mark's time to the second, with its date on another day. */
export function markWords(timeMs: number, { clockMs, timezone }: FleetView): string {
  const date = moment(timeMs, clockMs, timezone).replace(/\d\d:\d\d$/, "");
  return `${date}${clockTime(timeMs, timezone, true)}`;
}
