import { compareRoutes, countsOf, type Day, leavesAt, type Route } from "./day.ts";

/** Takes the stops from place `from` up to `to` of an order and puts them, turned round or not, before what is then at `into`. */
export interface Move {
  readonly from: number;
  readonly to: number;
  readonly into: number;
  readonly turned: boolean;
}

/** How a route stands before each place of its order. */
interface Standing {
  readonly place: number;
  readonly leaveMin: number;
  readonly driveMin: number;
  readonly waiting: boolean;
  readonly worth: number;
}

/**
 * Tries moves on a route: gives the order after one that makes it better, else null. A search asks many thousand times, so what
 * comes before the moved stops is taken as it stands, and nothing is made but numbers.
 */
export function betterThan(
  day: Day,
  { visits, left, driveMin, backMin }: Route,
): (move: Move) => number[] | null {
  const order = [...visits.map(({ stop }) => stop), ...left];
  const worths = worthsOf(day);
  const standings = standingsOf(day, visits, worths);
  const all = worths.reduce((sum, worth) => sum + worth, 0);
  const before = { counts: [standings[visits.length].worth], driveMin, backMin };
  return (move) => {
    const first = Math.min(move.from, move.into);
    // Among those that are left, the order tells nothing.
    if (first >= visits.length && visits.length > 0) return null;
    let { place, leaveMin, driveMin, waiting, worth } = standings[first];
    let spare = all - before.counts[0];
    for (let at = first; at < order.length; at++) {
      const stop = order[movedFrom(at, move)];
      const drive = day.driveMin[place][stop + 1];
      const endMin = leavesAt(day, leaveMin + drive, stop, waiting);
      if (Number.isNaN(endMin)) {
        spare -= worths[stop];
        if (spare < 0) return null;
        continue;
      }
      worth += worths[stop];
      driveMin += drive;
      place = stop + 1;
      leaveMin = endMin;
      waiting ||= day.stops[stop].units[0] !== "now";
    }
    const home = day.driveMin[place][0];
    const after = { counts: [worth], driveMin: driveMin + home, backMin: leaveMin + home };
    if (compareRoutes(after, before) >= 0) return null;
    return order.map((_, at) => order[movedFrom(at, move)]);
  };
}

/** Where what stands at `at` after a move stood before it. */
function movedFrom(at: number, { from, to, into, turned }: Move): number {
  const length = to - from;
  if (at >= into && at < into + length) return turned ? to - 1 - (at - into) : from + at - into;
  const among = at < into ? at : at - length;
  return among < from ? among : among + length;
}

/** Each stop's units as one number, which is the larger the more of the most pressing it has. */
function worthsOf(day: Day): number[] {
  const base = 1 + day.stops.reduce((sum, { units }) => sum + units.length, 0);
  return day.stops.map((_, stop) => countsOf(day, [stop]).reduce((worth, count) => worth * base + count, 0));
}

function standingsOf(day: Day, visits: Route["visits"], worths: readonly number[]): Standing[] {
  const standings: Standing[] = [{ place: 0, leaveMin: day.startMin, driveMin: 0, waiting: false, worth: 0 }];
  for (const { stop, leaveMin } of visits) {
    const { place, driveMin, waiting, worth } = standings[standings.length - 1];
    standings.push({
      place: stop + 1,
      leaveMin,
      driveMin: driveMin + day.driveMin[place][stop + 1],
      waiting: waiting || day.stops[stop].units[0] !== "now",
      worth: worth + worths[stop],
    });
  }
  return standings;
}
