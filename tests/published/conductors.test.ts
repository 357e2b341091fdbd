import { expect, test } from "vitest";
import { largestBreakerA, thinnestWire, voltageDropV } from "../../src/physics/conductors.ts";

const footM = 0.3048;

// NEC Chapter 9, Table 8, uncoated stranded copper at 75 °C, ohms a 1000 ft (read in two reprints).
test.each([
  [14, 3.14],
  [12, 1.98],
  [10, 1.24],
  [8, 0.778],
  [6, 0.491],
] as const)(
  "1 A out and back along 500 ft of %d AWG loses as many volts as 1000 ft have ohms: %d",
  (wire, ohms) => {
    expect(voltageDropV(1, 500 * footM, wire)).toBeCloseTo(ohms, 9);
  },
);

/**
 * A licence course's worked example by another way, VD = 2 K I L / CM with K = 12.9 for copper: 20 A over 100 ft of
 * 12 AWG at 120 V lose 7.9 V, 6.6 %; on 8 AWG 3.1 V, 2.6 %.
 */
test.each([
  [12, 7.9, 6.6],
  [8, 3.1, 2.6],
] as const)("20 A over 100 ft of %d AWG lose %d V, %d %% of 120 V", (wire, volts, percent) => {
  const lost = voltageDropV(20, 100 * footM, wire);
  expect(lost).toBeCloseTo(volts, 1);
  expect((100 * lost) / 120).toBeCloseTo(percent, 1);
});

// NEC 240.4(D), small conductors, copper (from memory).
test.each([
  [14, 15],
  [12, 20],
  [10, 30],
] as const)(
  "%d AWG copper is protected by %d A at most, and is the thinnest that it allows",
  (wire, breaker) => {
    expect(largestBreakerA(wire)).toBe(breaker);
    expect(thinnestWire(breaker)).toBe(wire);
  },
);
