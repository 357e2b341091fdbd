/** What was measured by hand at a pond. */
export interface HandReadings {
  readonly dissolvedOxygenMgL?: number;
  readonly secchiM?: number;
  readonly waterTemperatureC?: number;
}

/** What a person who was at a unit tells beside the work itself; plain data, part of its record. */
export interface Visit {
  readonly arrivedMs?: number;
  readonly leftMs?: number;
  readonly readings?: HandReadings;
  /** What its test button did to the ground-fault device. */
  readonly groundFault?: GroundFault;
  /** Parts that stayed in the skid, and what was used up. */
  readonly parts?: readonly string[];
  readonly used?: readonly string[];
  /** Where the photos lie, as written. */
  readonly photos?: readonly string[];
  /** Serial numbers of the skid that went, where known, and of the one that came. */
  readonly skid?: { readonly from?: string; readonly to: string };
}

export const groundFaults = ["tripped", "did not trip"] as const;
export type GroundFault = (typeof groundFaults)[number];
