import { expect, it } from "vitest";
import { routeDay } from "../../src/commands/route-day.ts";

const zone = "America/Chicago";
const at = (local: string): number => Date.parse(`2026-05-04T${local}:00-05:00`);
const planned = (local: string, options: { on?: string; start?: string } = {}) => {
  const { day, startMin, isFar } = routeDay({ until: "17:00", ...options }, at(local), zone);
  return [day.toString(), startMin / 60, isFar];
};

it("a day begins at 8, now where that is over, and tomorrow where less than two hours of it are left", () => {
  expect(planned("05:00")).toEqual(["2026-05-04", 8, false]);
  expect(planned("14:30")).toEqual(["2026-05-04", 14.5, false]);
  expect(planned("15:30")).toEqual(["2026-05-05", 8, false]);
  expect(planned("23:00")).toEqual(["2026-05-05", 8, false]);
});

it("a day that is asked for is kept: today from now on, another from its begin; a late one is far", () => {
  expect(planned("15:30", { on: "2026-05-04" })).toEqual(["2026-05-04", 15.5, false]);
  expect(planned("15:30", { on: "2026-05-07", start: "06:00" })).toEqual(["2026-05-07", 6, false]);
  expect(planned("15:30", { on: "2026-05-08" })).toEqual(["2026-05-08", 8, true]);
  expect(() => planned("15:30", { on: "2026-05-03" })).toThrow("is over");
  expect(() => planned("17:30", { on: "2026-05-04" })).toThrow("nothing is left");
});
