import fc from "fast-check";
import { expect, test } from "vitest";
import { demoUnits } from "../../src/simulate/demo-units.ts";
import { laterEvents, openingEvents, visitedUnit } from "../../src/simulate/live-script.ts";
import { recordedEndMs } from "../../src/simulate/recorded-day.ts";
import { hour, minute } from "../../src/terms/time.ts";

const take = (seed: number, count: number) => {
  const events = laterEvents(seed);
  return Array.from({ length: count }, () => events.next().value);
};

test("later faults come one by one for ever, each mended, never two at once on a unit", () => {
  fc.assert(
    fc.property(fc.integer(), (seed) => {
      const freeAt = new Map<string, number>();
      let last = recordedEndMs;
      for (const { unit, fault } of [
        ...openingEvents.toSorted((a, b) => a.fault.fromMs - b.fault.fromMs),
        ...take(seed, 60),
      ]) {
        expect(fault.fromMs).toBeGreaterThanOrEqual(last);
        expect(fault.fromMs).toBeGreaterThanOrEqual(freeAt.get(unit) ?? 0);
        const toMs = fault.toMs ?? Number.NaN;
        expect(toMs - fault.fromMs).toBeGreaterThanOrEqual(40 * minute);
        expect(toMs - fault.fromMs).toBeLessThanOrEqual(2 * hour);
        freeAt.set(unit, toMs);
        last = fault.fromMs;
      }
    }),
    { numRuns: 30 },
  );
});

test("an hour of the demo, thirty hours of log time, has more than twenty further faults of five kinds", () => {
  const events = take(11, 200).filter(({ fault }) => fault.fromMs < recordedEndMs + 30 * hour);
  expect(events.length).toBeGreaterThan(20);
  expect(new Set(events.map(({ fault }) => fault.kind)).size).toBeGreaterThanOrEqual(5);
});

test("ozone fails only where it is fitted", () => {
  const without = new Set(demoUnits.filter((unit) => unit.ozone !== "fitted").map((unit) => unit.id));
  const events = take(3, 400).filter(({ fault }) => fault.kind.startsWith("ozone"));
  expect(events.length).toBeGreaterThan(50);
  expect(events.some(({ unit }) => without.has(unit))).toBe(false);
});

test("every alarm-worthy fault that the recorded day ends with is mended later", () => {
  for (const unit of demoUnits) {
    const open = (unit.faults ?? []).filter((fault) => fault.toMs === undefined);
    const left = (visitedUnit(unit).faults ?? []).filter((fault) => fault.toMs === undefined);
    expect(left.map((fault) => fault.kind)).toEqual(
      open.map((fault) => fault.kind).filter((kind) => kind === "strainer-clogged"),
    );
  }
});
