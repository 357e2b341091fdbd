import { compareRoutes, countsOf, type Day, keyOf, leavesAt, type Route, walk } from "./day.ts";

/** The best that is known of visiting a set of stops with `stop` last: by time, or by driving. */
interface Label {
  readonly stop: number;
  readonly leaveMin: number;
  readonly driveMin: number;
  readonly before: Label | null;
}

/**
 * The best route of a day, exactly. Dynamic programming over sets of stops and the last of them (M. Held, R. M. Karp, "A
 * dynamic programming approach to sequencing problems", J. SIAM 10, 1962); where a wait for a gate parts time from
 * driving, each set keeps all that are best in one of the two (M. Desrochers, F. Soumis, "A generalized permanent
 * labelling algorithm", INFOR 26, 1988). Costs 2^n · n² steps.
 */
export function exactRoute(day: Day): Route {
  const n = day.stops.length;
  const labels: (readonly Label[])[][] = Array.from({ length: 1 << n }, () => []);
  const setsWithOthers = day.stops.reduce(
    (set, { units }, s) => (units[0] === "now" ? set : set | (1 << s)),
    0,
  );
  let best = walk(day, []);
  let bestKey = keyOf(day, best);
  const extend = (set: number, before: Label | null): void => {
    for (let stop = 0; stop < n; stop++) {
      if (set & (1 << stop)) continue;
      const place = before === null ? 0 : before.stop + 1;
      const arriveMin = (before?.leaveMin ?? day.startMin) + day.driveMin[place][stop + 1];
      const leaveMin = leavesAt(day, arriveMin, stop, (set & setsWithOthers) !== 0);
      if (Number.isNaN(leaveMin)) continue;
      const driveMin = (before?.driveMin ?? 0) + day.driveMin[place][stop + 1];
      const reached = labels[set | (1 << stop)];
      reached[stop] = withBest(reached[stop] ?? [], { stop, leaveMin, driveMin, before });
    }
  };
  extend(0, null);
  for (let set = 1; set < 1 << n; set++) {
    const reached = labels[set].flat();
    if (reached.length === 0) continue;
    const counts = countsOf(day, membersOf(set, n));
    for (const label of reached) {
      const home = day.driveMin[label.stop + 1][0];
      const key = { counts, driveMin: label.driveMin + home, backMin: label.leaveMin + home };
      if (compareRoutes(key, bestKey) < 0) {
        bestKey = key;
        best = walk(day, orderOf(label));
      }
      extend(set, label);
    }
    // A set is done with once the larger ones have been made from it.
    labels[set] = [];
  }
  const visited = new Set(best.visits.map(({ stop }) => stop));
  return { ...best, left: day.stops.map((_, stop) => stop).filter((stop) => !visited.has(stop)) };
}

/** The labels that none is better than in both, with another one. */
function withBest(labels: readonly Label[], label: Label): readonly Label[] {
  const { leaveMin, driveMin } = label;
  if (labels.some((one) => one.leaveMin <= leaveMin && one.driveMin <= driveMin)) return labels;
  return [...labels.filter((one) => one.leaveMin < leaveMin || one.driveMin < driveMin), label];
}

function membersOf(set: number, n: number): number[] {
  return Array.from({ length: n }, (_, stop) => stop).filter((stop) => set & (1 << stop));
}

function orderOf(last: Label): number[] {
  const order: number[] = [];
  for (let label: Label | null = last; label !== null; label = label.before) order.unshift(label.stop);
  return order;
}
