import { expect, test } from "vitest";
import { timeMover } from "../../src/simulate/move-times.ts";
import { moveFleetTimes } from "../../src/simulate/stage-fleet.ts";

const hour = 3_600_000;
const day = 24 * hour;

test("every form of time at the head of a line is moved in its own form, the rest of the line is not", () => {
  const text = [
    "time,motor_current_a",
    "2026-05-04T22:00:07Z,12.90,2026-05-04T22:00:07Z",
    "2026-05-04T17:00:07-05:00,12.90",
    "2026-05-04 17:00:07;12,90\r",
    "1777932007,12.90",
    "2026-05-04T11:1\u001b[2J,9",
    "# 2026-05-04T22:00:07Z",
    "",
  ].join("\n");
  expect(timeMover("America/Chicago", 30 * day + 30_000)(text)).toBe(
    [
      "time,motor_current_a",
      "2026-06-03T22:00:37Z,12.90,2026-05-04T22:00:07Z",
      "2026-06-03T17:00:37-05:00,12.90",
      "2026-06-03 17:00:37;12,90\r",
      "1780524037,12.90",
      "2026-05-04T11:1\u001b[2J,9",
      "# 2026-05-04T22:00:07Z",
      "",
    ].join("\n"),
  );
});

// IANA time zone database: America/New_York went from 01:59:59 to 03:00:00 on 2024-03-10, and repeated
// the hour from 01:00 on 2024-11-03.
test("a wall clock skips the missing hour of spring and shows the repeated hour of autumn twice", () => {
  const spring = timeMover("America/New_York", 1000);
  expect(spring("2024-03-10 01:59:59,1")).toBe("2024-03-10 03:00:00,1");
  const autumn = timeMover("America/New_York", hour);
  expect(autumn("2024-11-03 00:30:00,1\n2024-11-03 01:30:00,1")).toBe(
    "2024-11-03 01:30:00,1\n2024-11-03 01:30:00,1",
  );
});

test("times with an offset change it where the zone does", () => {
  expect(timeMover("America/New_York", 1000)("2024-03-10T01:59:59-05:00,1")).toBe(
    "2024-03-10T03:00:00-04:00,1",
  );
});

const fleet = `# ours
timezone: America/Chicago
services:
  - { unit: A, kind: cleaning, at: 2026-05-04T14:36:00Z }
units:
  - id: A    # by the gate
    runs: ["05:30-21:00", "22:00-23:30"]
    season: 06-15..09-15
    baseline: { from: 2026-05-03T22:00:00Z, for: 2 h }
  - id: B
    runs: always
`;
const recordedEndMs = Date.UTC(2026, 4, 4, 22);

test("a fleet file moves its services, baselines, windows and seasons with the logs, and keeps its comments", () => {
  const moved = moveFleetTimes(fleet, 10 * day + 5.5 * hour, recordedEndMs);
  expect(moved).toBe(`# ours
timezone: America/Chicago
services:
  - { unit: A, kind: cleaning, at: 2026-05-14T20:06:00Z }
units:
  - id: A # by the gate
    runs: [ "11:00-02:30", "03:30-05:00" ]
    season: 06-25..09-25
    baseline: { from: 2026-05-14T03:30:00Z, for: 2 h }
  - id: B
    runs: always
`);
});

test("windows follow the wall clock into winter time", () => {
  const winter = moveFleetTimes(fleet, 200 * day, recordedEndMs);
  expect(winter).toContain('"04:30-20:00", "21:00-22:30"');
});
