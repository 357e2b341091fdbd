/**
 * Copper conductors by AWG size: resistance in Ω per 1000 ft (uncoated, stranded, 75 °C), and the largest breaker or
 * fuse, A, for general wiring.
 *
 * Source: NEC Chapter 9, Table 8; NEC 240.4(D) up to 10 AWG, above it Table 310.16 at 60 °C (both from memory).
 */
const copper = {
  14: { ohmPerKft: 3.14, breakerA: 15 },
  12: { ohmPerKft: 1.98, breakerA: 20 },
  10: { ohmPerKft: 1.24, breakerA: 30 },
  8: { ohmPerKft: 0.778, breakerA: 40 },
  6: { ohmPerKft: 0.491, breakerA: 55 },
} as const;

/** Size of a conductor, AWG. */
export type WireSize = keyof typeof copper;
const sizes: readonly WireSize[] = [14, 12, 10, 8, 6];

const metresPerKft = 304.8;

/**
 * Voltage lost along a single-phase run, V: current in A, length one way in m.
 *
 * V = 2 I R L, by resistance alone: at these sizes reactance adds next to nothing. Source: NEC Chapter 9, Table 8.
 */
export function voltageDropV(currentA: number, lengthM: number, wire: WireSize): number {
  return 2 * currentA * copper[wire].ohmPerKft * (lengthM / metresPerKft);
}

/** Largest breaker or fuse, A, for a copper conductor. Source: NEC 240.4(D), Table 310.16. */
export function largestBreakerA(wire: WireSize): number {
  return copper[wire].breakerA;
}

/** Thinnest conductor that a breaker or fuse of so many A allows; undefined above 55 A. Source: NEC 240.4(D). */
export function thinnestWire(breakerA: number): WireSize | undefined {
  return sizes.find((wire) => largestBreakerA(wire) >= breakerA);
}
