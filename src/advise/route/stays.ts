import {
  compareRoutes,
  type Day,
  keyOf,
  type Pressing,
  pressing,
  type Route,
  type Visit,
  walk,
} from "./day.ts";
import { routeOf } from "./route.ts";

/** A place where somebody is wanted: how soon by each of its units, the most pressing first; its hours, minutes after midnight. */
export interface WantedPlace {
  readonly units: readonly Pressing[];
  readonly opensMin: number;
  readonly closesMin: number;
}

/** A day as `Day`, its places instead of its stops: how many of a place's units are seen to is to be found. */
export interface Outing extends Omit<Day, "stops"> {
  readonly places: readonly WantedPlace[];
  readonly atUnitMin: number;
}

/** One stay at a place, for the first so many of its units. */
export interface Stay extends Omit<Visit, "stop"> {
  readonly place: number;
  readonly units: number;
}

export interface Stays extends Pick<Route, "driveMin" | "backMin"> {
  readonly stays: readonly Stay[];
  /** Whether no other order is better. */
  readonly exact: boolean;
}

/**
 * The stays of a day, one at a place: with all of its units where there is time for everything, else with those that leave time for
 * what is more pressing elsewhere, and as many of the others as then fit.
 */
export function staysOf(outing: Outing): Stays {
  const { places } = outing;
  const upTo = (rank: number) => places.map(({ units }) => units.filter((one) => rankOf(one) <= rank).length);
  const first = planned(outing, upTo(pressing.length - 1));
  if (first.left.length === 0 || places.every(({ units }) => units.length === 1)) return told(first);
  const tried = pressing.map((_, rank) => filled(outing, planned(outing, upTo(rank))));
  const best = tried.reduce((a, b) => (isBetter(b, a) ? b : a));
  return { ...told(best), exact: false };
}

/** Stops at some places, with so many units each; the order of the stops is that of `at`. */
interface Plan extends Route {
  readonly day: Day;
  /** The place of each stop. */
  readonly at: readonly number[];
  readonly exact: boolean;
}

const rankOf = (one: Pressing): number => pressing.indexOf(one);

/** A day of stays at the places for which there are units, `counts` by place. */
function dayOf({ places, atUnitMin, driveMin, startMin, untilMin }: Outing, counts: readonly number[]) {
  const at = places.map((_, place) => place).filter((place) => counts[place] > 0);
  const rows = [0, ...at.map((place) => place + 1)];
  const day: Day = {
    stops: at.map((place) => {
      const { units, ...hours } = places[place];
      return { ...hours, units: units.slice(0, counts[place]), thereMin: counts[place] * atUnitMin };
    }),
    driveMin: rows.map((from) => rows.map((to) => driveMin[from][to])),
    startMin,
    untilMin,
  };
  return { day, at };
}

function planned(outing: Outing, counts: readonly number[]): Plan {
  const { day, at } = dayOf(outing, counts);
  return { day, at, ...routeOf(day) };
}

/** The same order, with so many units at its places; null where that does not fit. */
function walked(outing: Outing, order: readonly number[], counts: readonly number[]): Plan | null {
  const { day, at } = dayOf(outing, counts);
  const route = walk(
    day,
    order.map((place) => at.indexOf(place)),
  );
  return route.left.length === 0 ? { day, at, ...route, exact: false } : null;
}

/** A plan with what else there is time for, the most pressing first: longer stays, then further places. */
function filled(outing: Outing, plan: Plan): Plan {
  const { places } = outing;
  let order = plan.visits.map(({ stop }) => plan.at[stop]);
  const counts = places.map((_, place) => {
    const stop = order.includes(place) ? plan.at.indexOf(place) : -1;
    return stop < 0 ? 0 : plan.day.stops[stop].units.length;
  });
  const lengthen = (place: number, rank: number): void => {
    for (const one of places[place].units.slice(counts[place])) {
      if (rankOf(one) > rank) return;
      counts[place]++;
      if (walked(outing, order, counts) !== null) continue;
      counts[place]--;
      return;
    }
  };
  for (let rank = 0; rank < pressing.length; rank++) {
    for (const place of order) lengthen(place, rank);
    for (const [place, { units }] of places.entries()) {
      if (counts[place] > 0 || rankOf(units[0]) > rank) continue;
      counts[place] = 1;
      const fits = Array.from({ length: order.length + 1 }, (_, into) =>
        order.toSpliced(into, 0, place),
      ).flatMap((longer) => walked(outing, longer, counts) ?? []);
      if (fits.length === 0) {
        counts[place] = 0;
        continue;
      }
      const { visits, at } = fits.reduce((a, b) => (b.driveMin < a.driveMin ? b : a));
      order = visits.map(({ stop }) => at[stop]);
      lengthen(place, rank);
    }
  }
  const again = planned(outing, counts);
  const kept = walked(outing, order, counts) ?? again;
  return isBetter(again, kept) ? again : kept;
}

/** Whether `a` is the better. */
function isBetter(a: Plan, b: Plan): boolean {
  return compareRoutes(keyOf(a.day, a), keyOf(b.day, b)) < 0;
}

function told({ day, at, visits, driveMin, backMin, exact }: Plan): Stays {
  const stays = visits.map(({ stop, ...visit }) => ({
    ...visit,
    place: at[stop],
    units: day.stops[stop].units.length,
  }));
  return { stays, driveMin, backMin, exact };
}
