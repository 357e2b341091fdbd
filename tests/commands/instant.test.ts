import { expect, it } from "vitest";
import { instant } from "../../src/commands/check.ts";

const nowMs = Date.parse("2026-11-01T20:00:00Z");
const zone = "America/Chicago";

it("an option's time is in the fleet's zone as on the screen; of the day alone it is today's", () => {
  expect(instant("14:30", "--since", zone, nowMs)).toBe(Date.parse("2026-11-01T20:30:00Z"));
  expect(instant("2026-11-30 14:30", "--since", zone, nowMs)).toBe(Date.parse("2026-11-30T20:30:00Z"));
  expect(instant("2026-11-30T14:30:00+01:00", "--since", zone)).toBe(Date.parse("2026-11-30T13:30:00Z"));
});

it("a time that the clocks show twice or never is refused, and taken with its offset", () => {
  for (const text of ["2026-11-01 01:30", "2026-03-08 02:30", "01:30"])
    expect(() => instant(text, "--at", zone, nowMs)).toThrow(
      `--at '${text}' comes twice or never in America/Chicago, where the clocks change then; write its offset`,
    );
  expect(instant("2026-11-01T01:30:00-06:00", "--at", zone)).toBe(Date.parse("2026-11-01T07:30:00Z"));
});

it("a recorded log has no today: its times need their day", () => {
  expect(() => instant("14:30", "--from", zone)).toThrow("write it like 2026-05-04 14:30, or");
});
