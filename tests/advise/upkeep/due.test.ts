import { describe, expect, it } from "vitest";
import { bookings } from "../../../src/advise/upkeep/due.ts";
import type { DueWork } from "../../../src/detect/service-overdue.ts";
import { day, hour } from "../../../src/terms/time.ts";

const now = Date.parse("2026-05-15T00:00:00Z");
const cleaning: DueWork = {
  work: "cleaning",
  everyMs: 30 * day,
  fromMs: now - 10 * day,
  recorded: true,
  dueMs: now + 20 * day,
};
const service = { inspectionEveryMs: 30 * day, cleaningEveryMs: 30 * day };
const fouling = {
  atMs: now,
  growth: 0.15,
  outlastsCleaning: false,
  growthPerDay: 0.02,
  dueMs: now + 5 * day,
  earliestMs: now + 4 * day,
  latestMs: now + 7 * day,
};
const never = () => null;

describe("when a cleaning is due", () => {
  it("is told by its interval where nothing else asks for it", () => {
    const [booked] = bookings({ service }, [cleaning], null, never, now);
    expect(booked).toMatchObject({ because: "interval", dueMs: now + 20 * day });
  });

  it("is told by the trend of gas pressure, with its earliest and latest date, where that comes first", () => {
    const [booked] = bookings({ service }, [cleaning], fouling, never, now);
    expect(booked).toMatchObject({
      because: "gas pressure",
      dueMs: now + 5 * day,
      forecast: { earliestMs: now + 4 * day, latestMs: now + 7 * day },
    });
  });

  it("is told by no date of a trend that has none", () => {
    const left = { ...fouling, dueMs: Number.NaN, earliestMs: Number.NaN, latestMs: Number.NaN };
    expect(bookings({ service }, [cleaning], left, never, now)[0]).toMatchObject({ because: "interval" });
  });

  it("is told by running hours at the rate since the last: 100 h in 10 d are 200 h in 20 d", () => {
    const limited = { service: { ...service, cleaningRunningMs: 150 * hour } };
    const run = () => ({ runMs: 100 * hour, unknownMs: 0 });
    const [booked] = bookings(limited, [cleaning], null, run, now);
    expect(booked).toMatchObject({ because: "running", dueMs: now + 5 * day });
    const reached = () => ({ runMs: 151 * hour, unknownMs: 0 });
    expect(bookings(limited, [cleaning], null, reached, now)[0].dueMs).toBe(now);
  });

  it("is told by the rate of the time that is known: what was not read may have been running or not", () => {
    // 100 h in 5 known days are 20 h a day: 50 h more take 2.5 days.
    const limited = { service: { ...service, cleaningRunningMs: 150 * hour } };
    const run = () => ({ runMs: 100 * hour, unknownMs: now - cleaning.fromMs - 5 * day });
    expect(bookings(limited, [cleaning], null, run, now)[0]).toMatchObject({
      because: "running",
      dueMs: now + 2.5 * day,
    });
  });

  it("an inspection is not due by gas pressure", () => {
    const [booked] = bookings({ service }, [{ ...cleaning, work: "inspection" }], fouling, never, now);
    expect(booked).toMatchObject({ because: "interval" });
    expect(booked.forecast).toBeUndefined();
  });
});
