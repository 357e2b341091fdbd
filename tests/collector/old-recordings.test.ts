import { expect, it } from "vitest";
import { oldRecordings } from "../../src/collector/old-recordings.ts";
import { day, hour } from "../../src/terms/time.ts";
import { nightMs, unit } from "../dashboard/fixture.ts";

const silent = (id: string, forMs: number, over = {}) =>
  unit(id, { state: "no readings", lastReadingMs: nightMs - forMs, ...over });

it("logs that have gained nothing for more than a day lead to replay", () => {
  expect(oldRecordings([silent("LM-01", 210 * day), silent("LM-02", 30 * day)], nightMs)).toBe(
    "newest reading 30 d old; to play recordings: tarnwatch replay FLEET",
  );
  expect(oldRecordings([silent("LM-01", 23 * hour)], nightMs)).toBeNull();
});

it("says so in the 72 columns that a notice has on a terminal of 80", () => {
  expect(oldRecordings([silent("LM-01", 9000 * day)], nightMs)?.length).toBeLessThanOrEqual(72);
});

it("not where any unit is alive by its own deliveries, is still being read, or rests for the season", () => {
  const old = silent("LM-01", 30 * day);
  expect(oldRecordings([old, unit("LM-02")], nightMs)).toBeNull();
  expect(oldRecordings([old, unit("LM-02", { lastReadingMs: nightMs - 2 * day })], nightMs)).toBeNull();
  expect(oldRecordings([silent("LM-01", 30 * day, { catchingUp: true })], nightMs)).toBeNull();
  expect(oldRecordings([silent("LM-01", 30 * day, { state: "laid up" })], nightMs)).toBeNull();
  expect(oldRecordings([silent("LM-01", 30 * day, { lastReadingMs: null })], nightMs)).toBeNull();
});
