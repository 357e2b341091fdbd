import { compareRoutes, type Day, keyOf, pressing, type Route, walk } from "./day.ts";
import { betterThan, type Move } from "./moves.ts";

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
  const all = day.stops.map((_, stop) => stop);
  let best = walk(day, all);
  for (const first of startsOf(day)) {
    const found = improved(day, nearestNeighbours(day, first));
    if (compareRoutes(keyOf(day, found), keyOf(day, best)) < 0) best = found;
  }
  return best;
}

/** The most pressing stops, nearest first. */
function startsOf({ stops, driveMin }: Day): number[] {
  const rank = (stop: number): number => pressing.indexOf(stops[stop].units[0]);
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
    const cost = (stop: number): number => (stops[stop].units[0] === "now" ? 0 : 1e6) + here[stop + 1];
    const next = [...left].reduce((a, b) => (cost(b) < cost(a) ? b : a));
    order.push(next);
    left.delete(next);
  }
  return order;
}

/** What is better is taken at once, and the look around goes on from there, until a whole one finds nothing. */
function improved(day: Day, start: readonly number[]): Route {
  const moves = movesOf(start.length);
  let route = walk(day, start);
  let better = betterThan(day, route);
  for (let at = 0, idle = 0; idle < moves.length; at = (at + 1) % moves.length) {
    const found = better(moves[at]);
    if (found !== null) {
      route = walk(day, found);
      better = betterThan(day, route);
      idle = 0;
    } else idle++;
  }
  return route;
}

/** Every reversal of an order of `n` stops, and every move of a few neighbours either way round. */
function movesOf(n: number): Move[] {
  const moves: Move[] = [];
  for (let from = 0; from < n - 1; from++) {
    for (let to = from + 2; to <= n; to++) moves.push({ from, to, into: from, turned: true });
  }
  for (let length = 1; length <= longestMoved; length++) {
    for (let from = 0; from + length <= n; from++) {
      for (let into = 0; into <= n - length; into++) {
        if (into === from) continue;
        moves.push({ from, to: from + length, into, turned: false });
        if (length > 1) moves.push({ from, to: from + length, into, turned: true });
      }
    }
  }
  return moves;
}
