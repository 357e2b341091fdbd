import { compareRoutes, countsOf, type Day, pressing, type Route, walk } from "./day.ts";

/** So many beginnings are tried, since a search ends in the nearest hollow. */
const mostStarts = 12;
/** Or's exchange moves so many neighbours together at most. */
const longestMoved = 3;

/**
 * A good route of a day with many stops, not surely the best. From nearest-neighbour orders by reversals (2-opt:
 * G. A. Croes, "A method for solving traveling-salesman problems", Operations Research 6, 1958) and by moving up to three
 * neighbours elsewhere (I. Or, thesis, Northwestern University, 1976), until neither helps.
 */
export function searchedRoute(day: Day): Route {
  let best = walk(
    day,
    day.stops.map((_, stop) => stop),
  );
  for (const first of startsOf(day)) {
    const found = improved(day, nearestNeighbours(day, first));
    if (better(day, found, best)) best = found;
  }
  return best;
}

function better(day: Day, a: Route, b: Route): boolean {
  return compareRoutes(keyOf(day, a), keyOf(day, b)) < 0;
}

function keyOf(day: Day, { visits, driveMin, backMin }: Route) {
  return {
    counts: countsOf(
      day,
      visits.map(({ stop }) => stop),
    ),
    driveMin,
    backMin,
  };
}

/** The most pressing stops, nearest first. */
function startsOf({ stops, driveMin }: Day): number[] {
  const rank = (stop: number): number => pressing.indexOf(stops[stop].pressing);
  const all = stops.map((_, stop) => stop);
  return all
    .toSorted((a, b) => rank(a) - rank(b) || driveMin[0][a + 1] - driveMin[0][b + 1] || a - b)
    .slice(0, mostStarts);
}

/** An order that goes on to the nearest of the most pressing stops that are left. */
function nearestNeighbours({ stops, driveMin }: Day, first: number): number[] {
  const order = [first];
  const left = new Set(stops.map((_, stop) => stop));
  left.delete(first);
  while (left.size > 0) {
    const here = driveMin[order[order.length - 1] + 1];
    const cost = (stop: number): number => (stops[stop].pressing === "now" ? 0 : 1e6) + here[stop + 1];
    const next = [...left].reduce((a, b) => (cost(b) < cost(a) ? b : a));
    order.push(next);
    left.delete(next);
  }
  return order;
}

function improved(day: Day, start: readonly number[]): Route {
  let order = [...start];
  let route = walk(day, order);
  for (let goesOn = true; goesOn; ) {
    goesOn = false;
    for (const changed of neighboursOf(order)) {
      const found = walk(day, changed);
      if (!better(day, found, route)) continue;
      route = found;
      order = [...found.visits.map(({ stop }) => stop), ...found.left];
      goesOn = true;
      break;
    }
  }
  return route;
}

/** Every order that one reversal, or one move of a few neighbours either way round, makes of this one. */
function* neighboursOf(order: readonly number[]): Generator<number[]> {
  const n = order.length;
  for (let from = 0; from < n - 1; from++) {
    for (let to = from + 2; to <= n; to++) {
      yield [...order.slice(0, from), ...order.slice(from, to).reverse(), ...order.slice(to)];
    }
  }
  for (let length = 1; length <= longestMoved; length++) {
    for (let from = 0; from + length <= n; from++) {
      const moved = order.slice(from, from + length);
      const rest = [...order.slice(0, from), ...order.slice(from + length)];
      for (let to = 0; to <= rest.length; to++) {
        if (to === from) continue;
        yield [...rest.slice(0, to), ...moved, ...rest.slice(to)];
        if (length > 1) yield [...rest.slice(0, to), ...moved.toReversed(), ...rest.slice(to)];
      }
    }
  }
}
