import { describe, expect, it } from "vitest";
import { availabilityOf, toldShare } from "../../src/report/availability.ts";
import type { Interval } from "../../src/report/intervals.ts";
import { hour } from "../../src/terms/time.ts";

/** Stretches of a day by its hours. */
const at = (...hours: readonly [number, number][]): Interval[] =>
  hours.map(([from, to]) => ({ fromMs: from * hour, toMs: to * hour }));
const day = at([0, 24]);
const none: Interval[] = [];

/**
 * Definition: availability is up time over up time and down time (IEC 60050-192, mean availability; EN 13306:2017,
 * operational availability: down for maintenance counts; both from memory). Worked by hand.
 */
describe("availability", () => {
  it("a pump that lost its prime for three hours, was silent for six and served for one", () => {
    const found = availabilityOf({
      required: day,
      faults: at([2, 5]),
      services: at([18, 19]),
      ran: at([0, 2], [5, 10], [16, 18], [19, 24]),
      read: at([0, 10], [16, 24]),
    });
    expect(found).toMatchObject({
      requiredMs: 24 * hour,
      faultMs: 3 * hour,
      serviceMs: hour,
      unknownMs: 6 * hour,
      upMs: 14 * hour,
      times: 1,
    });
    // 14 of 18 known hours; 14 of 24 if the silence was down time, 20 of 24 if it was up.
    expect(found.share).toBeCloseTo(0.7778, 4);
    expect(found.lowest).toBeCloseTo(0.5833, 4);
    expect(found.highest).toBeCloseTo(0.8333, 4);
  });

  it("an inspection while the motor runs is no down time", () => {
    const input = { required: day, faults: none, services: at([9, 11]), read: day };
    expect(availabilityOf({ ...input, ran: day }).share).toBe(1);
    expect(availabilityOf({ ...input, ran: at([0, 10], [11, 24]) }).serviceMs).toBe(hour);
  });

  it("a fault that is under repair counts once, as the fault", () => {
    const found = availabilityOf({
      required: day,
      faults: at([2, 6]),
      services: at([4, 8]),
      ran: none,
      read: day,
    });
    expect(found).toMatchObject({ faultMs: 4 * hour, serviceMs: 2 * hour, upMs: 18 * hour });
  });

  it("a motor that was unplugged for a cleaning is in service; one that does not start again after it is a fault", () => {
    const input = { required: day, services: at([4, 6]), ran: none, read: day };
    const unplugged = availabilityOf({ ...input, faults: at([4, 6]) });
    expect(unplugged).toMatchObject({ faultMs: 0, serviceMs: 2 * hour, times: 0 });
    const stuck = availabilityOf({ ...input, faults: at([5, 9]) });
    expect(stuck).toMatchObject({ faultMs: 3 * hour, serviceMs: 2 * hour, times: 1 });
  });

  it("counts only the hours in which the unit was required", () => {
    const found = availabilityOf({
      required: at([6, 18]),
      faults: at([4, 9], [20, 22]),
      services: none,
      ran: none,
      read: day,
    });
    expect(found).toMatchObject({ requiredMs: 12 * hour, faultMs: 3 * hour, times: 1, share: 0.75 });
  });

  it("of a fault that stands when readings end nobody knows how long it lasts", () => {
    const found = availabilityOf({
      required: day,
      faults: at([12, 24]),
      services: none,
      ran: none,
      read: at([0, 13]),
    });
    expect(found).toMatchObject({ faultMs: hour, unknownMs: 11 * hour, lowest: 0.5 });
  });

  it("is told where three quarters of the required time are known, and below that it is not", () => {
    const read = (hours: number) =>
      availabilityOf({ required: day, faults: none, services: none, ran: none, read: at([0, hours]) });
    expect([read(18), read(17.9)].map(toldShare)).toEqual([1, null]);
    expect(read(18).known).toBe(0.75);
  });

  it("of silence alone nothing is known, and a unit that was not required has none", () => {
    const silent = { required: day, faults: none, services: none, ran: none, read: none };
    expect(availabilityOf(silent)).toMatchObject({ share: null, lowest: 0, highest: 1 });
    expect(availabilityOf({ ...silent, required: none })).toMatchObject({
      share: null,
      lowest: null,
      highest: null,
    });
  });
});
