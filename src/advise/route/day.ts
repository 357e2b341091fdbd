/** How soon a visit is wanted, most pressing first. */
export const pressing = ["now", "soon", "due", "early"] as const;
export type Pressing = (typeof pressing)[number];

/** A stay at one place. Times are minutes after midnight of the day. */
export interface Stop {
  /** How pressing each of its units is, the most pressing first: that is how soon the stop is wanted. */
  readonly units: readonly Pressing[];
  readonly thereMin: number;
  /** A visit begins and ends between these. */
  readonly opensMin: number;
  readonly closesMin: number;
}

/** A day's driving: place 0 is where it begins and ends, place n + 1 is stop n. */
export interface Day {
  readonly stops: readonly Stop[];
  /** Minutes from place to place; zeros from and to place 0 where the day begins at its first stop. */
  readonly driveMin: readonly (readonly number[])[];
  readonly startMin: number;
  readonly untilMin: number;
}

/** A visit within a route; the wait before a gate opens is between `arriveMin` and `beginMin`. */
export interface Visit {
  readonly stop: number;
  readonly arriveMin: number;
  readonly beginMin: number;
  readonly leaveMin: number;
}

export interface Route {
  readonly visits: readonly Visit[];
  /** Stops for which the day was too short, or their gate closed. */
  readonly left: readonly number[];
  readonly driveMin: number;
  /** When the day is over, back at place 0. */
  readonly backMin: number;
}

/**
 * When a visit of `stop` ends to which one arrives at `arriveMin`, after others of which `waitingBefore` were not wanted now; NaN
 * where it does not fit into its hours and the day, or should have come first: what is wanted now does, unless its gate opened only
 * once somebody was there.
 */
export function leavesAt(
  { stops, driveMin, untilMin }: Day,
  arriveMin: number,
  stop: number,
  waitingBefore: boolean,
): number {
  const { units, thereMin, opensMin, closesMin } = stops[stop];
  const endMin = Math.max(arriveMin, opensMin) + thereMin;
  if (endMin > closesMin || endMin + driveMin[stop + 1][0] > untilMin) return Number.NaN;
  return waitingBefore && units[0] === "now" && arriveMin > opensMin ? Number.NaN : endMin;
}

/** The route that takes the stops in this order and leaves out each that does not fit. */
export function walk(day: Day, order: readonly number[]): Route {
  const visits: Visit[] = [];
  const left: number[] = [];
  let place = 0;
  let leaveMin = day.startMin;
  let driveMin = 0;
  let waiting = false;
  for (const stop of order) {
    const arriveMin = leaveMin + day.driveMin[place][stop + 1];
    const endMin = leavesAt(day, arriveMin, stop, waiting);
    if (Number.isNaN(endMin)) {
      left.push(stop);
      continue;
    }
    visits.push({
      stop,
      arriveMin,
      beginMin: Math.max(arriveMin, day.stops[stop].opensMin),
      leaveMin: endMin,
    });
    driveMin += day.driveMin[place][stop + 1];
    place = stop + 1;
    leaveMin = endMin;
    waiting ||= day.stops[stop].units[0] !== "now";
  }
  const home = day.driveMin[place][0];
  return { visits, left, driveMin: driveMin + home, backMin: leaveMin + home };
}

/** How many units of each urgency a set of stops holds, most pressing first. */
export function countsOf({ stops }: Day, visited: readonly number[]): readonly number[] {
  const units = pressing.map(() => 0);
  for (const stop of visited) for (const one of stops[stop].units) units[pressing.indexOf(one)]++;
  return units;
}

/** What `compareRoutes` holds a route by. */
export function keyOf(
  day: Day,
  { visits, driveMin, backMin }: Pick<Route, "visits" | "driveMin" | "backMin">,
) {
  const visited = visits.map(({ stop }) => stop);
  return { counts: countsOf(day, visited), driveMin, backMin };
}

/** Driving that differs by less is the same, min: sums of the same drives differ in their last bits. */
const sameMin = 1e-6;

/** Negative where `a` is the better: more of the pressing units, then less driving, then back sooner. */
export function compareRoutes(
  a: { counts: readonly number[]; driveMin: number; backMin: number },
  b: { counts: readonly number[]; driveMin: number; backMin: number },
): number {
  for (const [i, count] of a.counts.entries()) if (count !== b.counts[i]) return b.counts[i] - count;
  const less = a.driveMin - b.driveMin;
  if (Math.abs(less) > sameMin) return less;
  return Math.abs(a.backMin - b.backMin) > sameMin ? a.backMin - b.backMin : 0;
}
