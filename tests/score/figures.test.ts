import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { f1Of, share } from "../../src/score/figures.ts";
import { score } from "../../src/score/score.ts";
import { second } from "../../src/terms/time.ts";
import { at, fault, told } from "./told.ts";

describe("recall, precision and F1", () => {
  it("are those of a worked example: 2 caught, 1 missed, none false", () => {
    // scikit-learn's classification_report, its documented example, class 2; from memory: 1.00, 0.67, 0.80.
    const { total } = score(
      ["01:00-02:00 ozone-off", "04:00-05:00 ozone-off", "07:00-08:00 ozone-off"].map(fault),
      told("01:10 raised ozone-off", "04:10 raised ozone-off"),
      3,
    );
    expect([total.precision?.value, total.recall?.value, total.f1?.value]).toEqual([1, 2 / 3, 0.8]);
    expect(total.falsePerUnitDay).toBe(0);
  });

  it("have no value where there is nothing to take a share of", () => {
    const { total, firstAlarmRight } = score([], told("01:10 raised ozone-off"), null);
    expect(total.recall).toBeNull();
    expect(total.precision?.value).toBe(0);
    expect(total.falsePerUnitDay).toBeNull();
    expect(firstAlarmRight).toBeNull();
    expect(share(0, 0)).toBeNull();
  });

  it("F1 is the harmonic mean of the two, and lies in its interval", () => {
    const count = fc.integer({ min: 0, max: 500 });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), count, count, (caught, missed, wrong) => {
        const f1 = f1Of(caught, missed, wrong);
        const [r, p] = [caught / (caught + missed), caught / (caught + wrong)];
        expect(f1?.value).toBeCloseTo((2 * r * p) / (r + p), 12);
        expect(f1?.low).toBeLessThan(f1?.value ?? 0);
        expect(f1?.high).toBeGreaterThanOrEqual(f1?.value ?? 0);
      }),
    );
  });
});

describe("a score", () => {
  const faults = ["01:00-02:00 lost-prime", "04:00-05:00 ozone-off", "07:00-08:00 readings-stale"].map(fault);
  const events = told(
    "01:01 raised lost-prime",
    "01:20 raised overheating",
    "07:01 raised readings-stale",
    "12:00 raised clock-fault",
    "13:00 raised overheating",
    "14:00 raised cavitation P-02",
  );
  const result = score(faults, events, 4);
  const of = (alarm: string) => result.alarms.find((row) => row.alarm === alarm)?.figures;

  it("counts each alarm by itself", () => {
    expect(of("lost-prime")).toMatchObject({ faults: 1, caught: 1, missed: 0, delayMedianMs: 60 * second });
    expect(of("ozone-off")).toMatchObject({ faults: 1, caught: 0, missed: 1, delayMedianMs: null });
    expect(of("overheating")).toMatchObject({
      faults: 0,
      companions: 1,
      falseAlarms: 1,
      falsePerUnitDay: 0.25,
    });
    expect(of("readings-stale")).toMatchObject({ faults: 1, caught: 1 });
  });

  it("leaves alarms that look at a clock out of the totals", () => {
    expect(result.total).toMatchObject({ faults: 2, caught: 1, missed: 1, falseAlarms: 2, companions: 1 });
    expect(result.total.precision?.value).toBe(1 / 3);
    expect(result.total.falseBy).toEqual({ high: 2, medium: 0, low: 0, prompt: 0 });
  });

  it("tells which alarm came first, and lists what was missed and what was false", () => {
    expect(result.firstAlarms).toEqual([
      { fault: "lost-prime", faults: 1, first: new Map([["lost-prime", 1]]) },
      { fault: "ozone-off", faults: 1, first: new Map([[null, 1]]) },
    ]);
    expect(result.firstAlarmRight?.value).toBe(0.5);
    expect(result.missed.map(({ fault: { alarm } }) => alarm)).toEqual(["ozone-off"]);
    expect(result.falseAlarms.map(({ raise }) => raise.timeMs)).toEqual(["12:00", "13:00", "14:00"].map(at));
  });

  it("does not call a first alarm right that names another fault", () => {
    const events = told("01:01 raised lost-prime", "01:09 raised suction-restricted");
    const { firstAlarms, firstAlarmRight } = score([fault("01:00-02:00 suction-restricted")], events, null);
    expect(firstAlarms[0].first).toEqual(new Map([["lost-prime", 1]]));
    expect(firstAlarmRight?.value).toBe(0);
  });

  it("gives the delay at the median and the 95th percentile of the caught faults", () => {
    const many = Array.from({ length: 20 }, (_, i) => i + 1);
    const { total } = score(
      many.map((i) => fault(`01:00-02:00 lost-prime P-${i}`)),
      told(...many.map((i) => `01:${String(i).padStart(2, "0")} raised lost-prime P-${i}`)),
      null,
    );
    // Of 1 … 20 min, between the ranks 1 + 19 × 0.5 and 1 + 19 × 0.95: the seventh definition of Hyndman and
    // Fan, "Sample quantiles in statistical packages" (1996), from memory.
    expect([total.delayMedianMs, total.delay95Ms]).toEqual([630 * second, 1143 * second]);
  });
});
