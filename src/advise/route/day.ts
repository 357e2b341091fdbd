/** How soon a visit is wanted, most pressing first. */
export const pressing = ["now", "soon", "due", "early"] as const;
export type Pressing = (typeof pressing)[number];

/** Units of one urgency at one place. Times are minutes after midnight of the day. */
export interface Stop {
  readonly pressing: Pressing;
  readonly units: number;
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

/** The visit of `stop` after leaving place `from` at `leaveMin`; null where it does not fit into its hours and the day. */
export function visitAfter(
  { stops, driveMin, untilMin }: Day,
  from: number,
  leaveMin: number,
  stop: number,
): Visit | null {
  const { thereMin, opensMin, closesMin } = stops[stop];
  const arriveMin = leaveMin + driveMin[from][stop + 1];
  const beginMin = Math.max(arriveMin, opensMin);
  const end = beginMin + thereMin;
  if (end > closesMin || end + driveMin[stop + 1][0] > untilMin) return null;
  return { stop, arriveMin, beginMin, leaveMin: end };
}

/**
 * Whether a visit may follow others of which `waitingBefore` were not wanted now: one that is wanted now comes first,
 * unless its gate opened only once somebody was there.
 */
export function mayFollow({ stops }: Day, { stop, arriveMin }: Visit, waitingBefore: boolean): boolean {
  const { pressing, opensMin } = stops[stop];
  return !waitingBefore || pressing !== "now" || arriveMin <= opensMin;
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
    const visit = visitAfter(day, place, leaveMin, stop);
    if (visit === null || !mayFollow(day, visit, waiting)) {
      left.push(stop);
      continue;
    }
    visits.push(visit);
    driveMin += day.driveMin[place][stop + 1];
    place = stop + 1;
    leaveMin = visit.leaveMin;
    waiting ||= day.stops[stop].pressing !== "now";
  }
  const home = day.driveMin[place][0];
  return { visits, left, driveMin: driveMin + home, backMin: leaveMin + home };
}

/** How many units of each urgency a set of stops holds, most pressing first. */
export function countsOf({ stops }: Day, visited: readonly number[]): readonly number[] {
  const units = pressing.map(() => 0);
  for (const stop of visited) units[pressing.indexOf(stops[stop].pressing)] += stops[stop].units;
  return units;
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
