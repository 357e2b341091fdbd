/** How often a motor may start, as NEMA MG 10 tabulates it. */
export interface StartLimits {
  /** Column A: most starts an hour, whatever the load. */
  readonly startsPerHour: number;
  /** Column B: starts an hour times the load's inertia, lb·ft². */
  readonly startsTimesInertiaLbFt2: number;
  /** Column C: least rest between a stop and the next start, s. */
  readonly restS: number;
}

/**
 * Start limits of small motors by horsepower and poles.
 *
 * Source: NEMA MG 10, for polyphase Design A and B motors: for a single-phase capacitor motor an upper bound
 * only, and the maker's figure governs.
 */
export const startLimits = {
  1: {
    2: { startsPerHour: 15, startsTimesInertiaLbFt2: 1.2, restS: 75 },
    4: { startsPerHour: 30, startsTimesInertiaLbFt2: 5.8, restS: 38 },
  },
  1.5: {
    2: { startsPerHour: 12.9, startsTimesInertiaLbFt2: 1.8, restS: 76 },
    4: { startsPerHour: 25.7, startsTimesInertiaLbFt2: 8.6, restS: 38 },
  },
  2: {
    2: { startsPerHour: 11.5, startsTimesInertiaLbFt2: 2.4, restS: 77 },
    4: { startsPerHour: 23, startsTimesInertiaLbFt2: 11, restS: 39 },
  },
} as const satisfies Record<number, Record<2 | 4, StartLimits>>;

/** Starts an hour that a motor bears with a load of this inertia, lb·ft²: the lesser of A and B / inertia. */
export function startsPerHourAllowed(limits: StartLimits, loadInertiaLbFt2: number): number {
  return Math.min(limits.startsPerHour, limits.startsTimesInertiaLbFt2 / loadInertiaLbFt2);
}
