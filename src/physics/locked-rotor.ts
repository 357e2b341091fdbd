/** Locked-rotor kVA per horsepower by a nameplate's code letter (NEC Table 430.7(B)). */
const kvaPerHorsepower = {
  G: { from: 5.6, to: 6.29 },
  H: { from: 6.3, to: 7.09 },
  J: { from: 7.1, to: 7.99 },
  K: { from: 8, to: 8.99 },
  L: { from: 9, to: 9.99 },
  M: { from: 10, to: 11.19 },
} as const;

export type LockedRotorCode = keyof typeof kvaPerHorsepower;

/**
 * Range of the current, A, that a single-phase motor draws with its rotor standing, by its code letter.
 *
 * I = 1000 (kVA/hp) hp / V. Source: NEC Table 430.7(B). Six times full load or more is common practice.
 */
export function lockedRotorCurrentA(
  code: LockedRotorCode,
  horsepower: number,
  voltageV: number,
): { readonly from: number; readonly to: number } {
  const { from, to } = kvaPerHorsepower[code];
  const each = (1000 * horsepower) / voltageV;
  return { from: from * each, to: to * each };
}
