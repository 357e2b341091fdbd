import { type Day, pressing, type Route } from "./day.ts";
import { exactRoute } from "./exact.ts";
import { searchedRoute } from "./local-search.ts";

/** Up to so many stops the route is the best there is. */
export const mostExact = 12;
/** Nobody makes more visits in a day: of more, the most pressing and nearest are weighed. */
const mostWeighed = 40;

/** The visits of a day: as many of the pressing ones as fit, with the least driving. */
export function routeOf(day: Day): Route & { readonly exact: boolean } {
  const { stops, driveMin } = day;
  if (stops.length <= mostExact) return { ...exactRoute(day), exact: true };
  const rank = (stop: number): number => pressing.indexOf(stops[stop].units[0]);
  const weighed = stops
    .map((_, stop) => stop)
    .toSorted((a, b) => rank(a) - rank(b) || driveMin[0][a + 1] - driveMin[0][b + 1] || a - b)
    .slice(0, mostWeighed);
  const places = [0, ...weighed.map((stop) => stop + 1)];
  const found = searchedRoute({
    ...day,
    stops: weighed.map((stop) => stops[stop]),
    driveMin: places.map((from) => places.map((to) => driveMin[from][to])),
  });
  const visits = found.visits.map((visit) => ({ ...visit, stop: weighed[visit.stop] }));
  const visited = new Set(visits.map(({ stop }) => stop));
  const left = stops.map((_, stop) => stop).filter((stop) => !visited.has(stop));
  return { ...found, visits, left, exact: false };
}
