import { takesBack } from "./services.ts";
import type { ServiceRecord, Unit } from "./unit.ts";
import type { GroundFault, Visit } from "./visit.ts";

/** Fish are under stress below the first and die below the second, mg/L (common practice). */
export const stressOxygenMgL = 4;
export const deadlyOxygenMgL = 2;

/** What a visit found, when and by whom. */
export interface FoundOn {
  readonly atMs: number;
  readonly by?: string;
}

/** What visits found at a unit and holds until a later one finds otherwise. Plain data. */
export interface Found {
  /** Its ground-fault device did not trip when it was last tested. */
  readonly noTrip?: FoundOn;
  /** The last reading of dissolved oxygen, where it is too low for the fish that live there. */
  readonly lowOxygen?: FoundOn & { readonly mgL: number };
}

/** What the visits of one unit found; its records in any order. Nothing where all is well or nobody looked. */
export function foundAt(
  { consequence }: Pick<Unit, "consequence">,
  records: readonly ServiceRecord[],
): { readonly found?: Found } {
  const tested = lastWith(records, ({ groundFault }) => groundFault !== undefined);
  const measured = lastWith(records, ({ readings }) => readings?.dissolvedOxygenMgL !== undefined);
  const mgL = measured?.visit?.readings?.dissolvedOxygenMgL;
  const found: Found = {
    ...(tested?.visit?.groundFault === "did not trip" && { noTrip: foundOn(tested) }),
    ...(measured !== undefined &&
      mgL !== undefined &&
      mgL < stressOxygenMgL &&
      consequence === "fish" && { lowOxygen: { ...foundOn(measured), mgL } }),
  };
  return Object.keys(found).length === 0 ? {} : { found };
}

/** The last ground-fault test that records of a unit tell of, in whatever order they are. */
export function lastGroundFault(records: readonly ServiceRecord[]): GroundFault | undefined {
  return lastWith(records, ({ groundFault }) => groundFault !== undefined)?.visit?.groundFault;
}

function lastWith(
  records: readonly ServiceRecord[],
  tells: (visit: Visit) => boolean,
): ServiceRecord | undefined {
  return records
    .filter((record) => record.visit !== undefined && tells(record.visit) && !takesBack(record))
    .toSorted((a, b) => a.atMs - b.atMs)
    .at(-1);
}

function foundOn({ atMs, by }: ServiceRecord): FoundOn {
  return { atMs, ...(by !== undefined && { by }) };
}
