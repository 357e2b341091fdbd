/** What a nameplate says of how much more a motor bears; undefined where it says nothing. */
export interface OverloadMarks {
  readonly serviceFactor?: number;
  /** Marked temperature rise, K. */
  readonly riseK?: number;
}

function bearsMore({ serviceFactor, riseK }: OverloadMarks): boolean {
  return (serviceFactor ?? 1) >= 1.15 || (riseK ?? Number.POSITIVE_INFINITY) <= 40;
}

/**
 * Most that a separate overload device may be set to, A, for a nameplate current in A: 125 % with a marked
 * service factor of 1.15 or more or a marked rise of 40 K or less, else 115 %.
 *
 * Source: NEC 430.32(A)(1), written for continuous duty above 1 hp; 430.32(B) and (D) rule smaller motors.
 */
export function overloadSettingA(nameplateCurrentA: number, marks: OverloadMarks): number {
  return nameplateCurrentA * (bearsMore(marks) ? 1.25 : 1.15);
}

/**
 * Most that the setting may be raised to, A, where the motor will not start or carry its load: 140 or 130 %.
 *
 * Source: NEC 430.32(C).
 */
export function highestOverloadSettingA(nameplateCurrentA: number, marks: OverloadMarks): number {
  return nameplateCurrentA * (bearsMore(marks) ? 1.4 : 1.3);
}

/**
 * Most that a thermal protector built into a motor may let pass for long, A, for a full-load current in A: 170 % up to
 * 9 A, 156 % up to 20 A, 140 % above.
 *
 * Source: NEC 430.32(A)(2).
 */
export function thermalProtectorTripA(fullLoadCurrentA: number): number {
  if (fullLoadCurrentA <= 9) return fullLoadCurrentA * 1.7;
  return fullLoadCurrentA * (fullLoadCurrentA <= 20 ? 1.56 : 1.4);
}

/**
 * Most that a branch circuit may carry for 3 h or longer, A, by the rating of its breaker or fuse in A: 80 %.
 *
 * Source: NEC 210.20(A); 210.23(A)(1) sets the same for one cord-and-plug unit.
 */
export function continuousCircuitA(ratingA: number): number {
  return ratingA * 0.8;
}
