import { deadlyOxygenMgL, type Found, stressOxygenMgL } from "../fleet/found.ts";
import { visible } from "../terms/text.ts";

/** What follows from a ground-fault device that was found not to trip. */
export const noProtection =
  "a ground-fault device that does not trip protects nobody; leave the unit unplugged and call a licensed electrician";

/** What stands until a test trips: `did not trip when tested (4 May 09:40, by Ann): …`; `at` writes a moment. */
export function noTripWords(
  { atMs, by }: NonNullable<Found["noTrip"]>,
  at: (timeMs: number) => string,
): string {
  const who = by === undefined ? "" : `, by ${visible(by)}`;
  return `did not trip when tested (${at(atMs)}${who}): ${noProtection}`;
}

/** What little oxygen in the water does to fish; null where it is enough. */
export function oxygenWords(mgL: number): string | null {
  if (mgL >= stressOxygenMgL) return null;
  return mgL < deadlyOxygenMgL
    ? `below ${deadlyOxygenMgL} mg/L fish die (common practice)`
    : `below ${stressOxygenMgL} mg/L puts fish under stress (common practice)`;
}
