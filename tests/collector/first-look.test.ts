import { utimesSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { catchingUpOrder } from "../../src/collector/catching-up-order.ts";
import { lookAtEnd, viewFirstLook } from "../../src/collector/first-look.ts";
import type { LogView } from "../../src/collector/fleet-view.ts";
import { startFollowing, viewFollowing } from "../../src/collector/following.ts";
import { startPlayer } from "../../src/collector/play.ts";
import { urgencyOf } from "../../src/dashboard/urgency.ts";
import { startUnit } from "../../src/engine.ts";
import { fleetFile, primeLost, quietDay, stopped } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith } from "../support/program.ts";
import { clean, midnight, readings, run, type Stretch } from "../support/unit-days.ts";

const noLog: LogView = { files: [], rows: 0, repeats: 0, late: 0, rejected: 0, newestRejected: [] };
const hours = (n: number): Stretch => ({ seconds: 3600 * n, values: clean });

/** What is shown of a unit at `atMs` before its logs, in `files`, have been read; the last file is the newest. */
async function firstLook(files: Readonly<Record<string, string | Uint8Array>>, atMs: number, keys = "") {
  const folder = folderWith(files);
  const fleet = fleetOf(fleetFile([`{ id: LM-01${keys} }`]), folder);
  const paths = Object.keys(files).map((name) => join(folder, name));
  for (const [i, path] of paths.entries()) utimesSync(path, 1_000_000, 1_000_000 + i);
  const [unit] = fleet.units;
  const look = await lookAtEnd(unit, fleet, paths.toSorted(), atMs + 3_600_000, undefined);
  return { look, view: viewFirstLook(startUnit(unit, fleet), fleet, look, noLog, null, atMs), fleet, paths };
}

const shownValue = (view: Awaited<ReturnType<typeof firstLook>>["view"], channel: string) =>
  view.readings.find((reading) => reading.channel === channel)?.value;

describe("the end of a log before the log has been read", () => {
  it("gives the newest readings of a log of any length, under the header at its beginning", async () => {
    const day = readings([hours(30), { seconds: 20, values: { ...clean(0), motor_current: 8.88 } }]);
    const text = logText(day, { delimiter: ";", decimalComma: true });
    expect(text.length).toBeGreaterThan(500_000);
    const { view } = await firstLook({ "LM-01.csv": text }, midnight + 30 * 3_600_000 + 20_000);
    expect(view).toMatchObject({
      catchingUp: true,
      state: "running",
      lastReadingMs: midnight + 30 * 3_600_000 + 10_000,
      intervalMs: 10_000,
    });
    expect(shownValue(view, "motor_current")).toBe(8.88);
    expect(shownValue(view, "ozone")).toBe(1);
  });

  it("finds a header below kilobytes of comment too", async () => {
    const text = `${"# a logger that tells much of itself\n".repeat(100)}${logText(readings([hours(30)]))}`;
    const { view } = await firstLook({ "LM-01.csv": text }, midnight + 30 * 3_600_000);
    expect(view.lastReadingMs).toBe(midnight + 30 * 3_600_000 - 10_000);
  });

  it("judges nothing: no alarm, no baseline, though the pump has lost its prime there", async () => {
    const { view, look } = await firstLook(
      { "LM-01.csv": logText(readings(primeLost)) },
      midnight + 70 * 60_000,
    );
    expect(shownValue(view, "discharge_pressure")).toBe(1.5);
    expect(view).toMatchObject({ alarms: [], quiet: [], baseline: null });
    expect(look?.state.condition.baseline).toBeNull();
    expect(view.readings.every(({ normal }) => normal === null)).toBe(true);
  });

  it("leaves standing what was kept of it before: an alarm does not vanish because a collector starts", async () => {
    const { fleet, look } = await firstLook({ "LM-01.csv": logText(readings(quietDay)) }, midnight);
    const state = startUnit(fleet.units[0], fleet);
    run(state, { kind: "readings", batch: readings(primeLost) });
    const kept = {
      player: startPlayer(state, []),
      responses: {},
      services: [],
      recorded: [],
      seq: 1,
      wordRow: 0,
      serviceRow: 0,
    };
    const following = startFollowing(
      fleet.units[0],
      fleet,
      { timeMs: () => midnight },
      {
        ...kept,
        dropped: [],
        readAgain: null,
      },
    );
    following.firstLook = look;
    const atMs = midnight + 70 * 60_000;
    const view = viewFollowing(following, fleet, following.log.status(), undefined, atMs);
    expect(view).toMatchObject({ catchingUp: true, lastReadingMs: look?.state.condition.lastTimeMs });
    expect(view.alarms.map(({ alarm, state }) => `${alarm} ${state}`)).toEqual([
      "lost-prime active-unacknowledged",
    ]);
    expect(urgencyOf(view)).toBe("now");
  });

  it("tells since when only where that lies within what was read", async () => {
    const running = await firstLook({ "LM-01.csv": logText(readings([hours(30)])) }, midnight + 108e6);
    expect(running.view).toMatchObject({ state: "running", sinceMs: null });
    const stops = readings([hours(30), { seconds: 600, values: stopped }]);
    const { view } = await firstLook({ "LM-01.csv": logText(stops) }, midnight + 108e6 + 600_000);
    expect(view).toMatchObject({ state: "stopped", sinceMs: midnight + 108e6 });
  });

  it("says since when a unit has been silent", async () => {
    const { view } = await firstLook({ "LM-01.csv": logText(readings(quietDay)) }, midnight + 9 * 3_600_000);
    const last = midnight + 70 * 60_000 - 10_000;
    expect(view).toMatchObject({ state: "no readings", sinceMs: last, lastReadingMs: last });
  });

  it("takes the file that was written last, whatever it is called, and leaves compressed ones", async () => {
    const at = (current: number) =>
      logText(readings([{ seconds: 600, values: { ...clean(0), motor_current: current } }]));
    const { view } = await firstLook(
      { "LM-01.csv": at(9.1), "LM-01.csv.1": at(9.2), "LM-01.csv.2.gz": gzipSync(at(9.3)) },
      midnight + 600_000,
    );
    expect(shownValue(view, "motor_current")).toBe(9.2);
  });

  it("leaves a line out that its writer has not finished, and times of a clock gone wild", async () => {
    const text = logText(readings([{ seconds: 600, values: clean }]));
    const row = text.trimEnd().split("\n").at(-1) ?? "";
    const wild = row.replace(/^[^,]+/, "2031-01-01T00:00:00.000Z");
    const half = row.replace(/^[^,]+/, "2026-05-04T00:10:00.000Z").slice(0, -4);
    const { view } = await firstLook({ "LM-01.csv": `${text}${wild}\n${half}` }, midnight + 600_000);
    expect(view.lastReadingMs).toBe(midnight + 590_000);
  });

  it.each([
    ["there is no log", {}],
    ["its only log is compressed", { "LM-01.csv.gz": gzipSync(logText(readings(quietDay))) }],
    ["its log is empty", { "LM-01.csv": "" }],
    ["its log has a header and no row", { "LM-01.csv": "time,motor_current_a\n" }],
    ["its log is no text", { "LM-01.csv": new Uint8Array(200_000) }],
    ["its log is one endless line", { "LM-01.csv": "x".repeat(200_000) }],
  ])("is not shown where %s", async (_why, files) => {
    const { view, look } = await firstLook(files, midnight);
    expect(look).toBeUndefined();
    expect(view).toMatchObject({ catchingUp: true, state: "no readings", lastReadingMs: null, readings: [] });
  });

  it("is not read again while the log stays as it is", async () => {
    const { look, fleet, paths } = await firstLook({ "LM-01.csv": logText(readings(quietDay)) }, midnight);
    expect(await lookAtEnd(fleet.units[0], fleet, paths, Number.POSITIVE_INFINITY, look)).toBe(look);
    utimesSync(paths[0], 1_000_000, 1_000_009);
    expect(await lookAtEnd(fleet.units[0], fleet, paths, Number.POSITIVE_INFINITY, look)).not.toBe(look);
  });
});

describe("the order in which backlogs are read", () => {
  it("is fish first, then the smallest, then the fleet file's", () => {
    const fleet = fleetOf(
      fleetFile([
        "{ id: A }",
        "{ id: B, consequence: appearance }",
        "{ id: C, consequence: fish }",
        "{ id: D }",
        "{ id: E, consequence: fish }",
      ]),
      "/fleet",
    );
    const bytes = new Map(Object.entries({ A: 500, B: 20, C: 900, D: 500, E: 700 }));
    expect(catchingUpOrder(fleet.units, bytes)).toEqual(["E", "C", "B", "A", "D"]);
  });
});
