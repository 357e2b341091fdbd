import { appendFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readOnce } from "../../src/collector/read-once.ts";
import { dry, fleetFile } from "../support/fleets.ts";
import { followFleet } from "../support/followed.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith, run } from "../support/program.ts";
import { eventsIn, statusShape } from "../support/status-shape.ts";
import { but, clean, hourClean, midnight, readings } from "../support/unit-days.ts";

const [header = "", ...hour] = logText(readings([hourClean]))
  .trimEnd()
  .split("\n");
const inNextCentury = (row: string) => row.replace("2026-", "2126-");

/** An hour of clean running; after 30 min the logger's clock jumps a century ahead for three readings. */
const wildHour = [
  header,
  ...hour.slice(0, 180),
  ...hour.slice(177, 180).map(inNextCentury),
  ...hour.slice(180),
];
const text = (rows: readonly string[]) => `${rows.join("\n")}\n`;

/** The readings after the hour, without a header: prime is lost. */
const primeLost = `${logText(readings([{ seconds: 120, values: but(dry) }], 10, midnight + 3600_000))
  .split("\n")
  .slice(1)
  .join("\n")}`;

describe("a logger's clock that goes wild while its log is followed", () => {
  it.each(["0 s", "30 s"])(
    "costs its own rows, with the reason, and blinds nobody: order within %s",
    async (within) => {
      const { unit, log, until } = await followFleet(
        [{ id: "LM-01", text: text(wildHour) }],
        "2026-05-04T01:00:05Z",
        `order_within: ${within}\n`,
      );
      expect(unit("LM-01").log.rejected).toBe(3);
      expect(unit("LM-01").log.newestRejected[0]).toEqual({
        file: log("LM-01"),
        line: 184,
        why: "its time is more than an hour ahead of the clock here; set the logger's clock",
      });
      expect(unit("LM-01").log).toMatchObject({ rows: 360, late: 0 });
      appendFileSync(log("LM-01"), `${inNextCentury(hour[0] ?? "")}\n${primeLost}`);
      await until(() => expect(unit("LM-01").alarms.map(({ alarm }) => alarm)).toContain("lost-prime"));
      expect(unit("LM-01").log.rejected).toBe(4);
      expect(unit("LM-01").lastReadingMs).toBeLessThan(Date.parse("2026-05-04T01:02:00Z"));
    },
  );

  it("is told of from two minutes ahead, since rows before that time are not judged", async () => {
    const alarms = async (time: string) =>
      (await followFleet([{ id: "LM-01", text: text([header, ...hour]) }], time)).unit("LM-01").alarms;
    const [ahead] = await alarms("2026-05-04T00:30:00Z");
    expect(ahead).toMatchObject({ alarm: "clock-fault", priority: "low" });
    expect(ahead?.message).toMatch(/^The newest reading is 29 min ahead of the clock here/);
    expect(await alarms("2026-05-04T00:59:00Z")).toEqual([]);
  });

  it("is believed up to an hour ahead", async () => {
    const { unit } = await followFleet(
      [{ id: "LM-01", text: text([header, ...hour]) }],
      "2026-05-03T23:59:55Z",
    );
    expect(unit("LM-01").log).toMatchObject({ rows: 360, rejected: 0 });
    const { unit: earlier } = await followFleet(
      [{ id: "LM-01", text: text([header, ...hour]) }],
      "2026-05-03T23:00:00Z",
    );
    expect(earlier("LM-01").log).toMatchObject({ rows: 1, rejected: 359 });
  });
});

describe("rows of a later time than is asked for", () => {
  const silent = readings([{ seconds: 1800, values: clean }]);

  it.each(["0 s", "30 s"])(
    "are left out of a look, wherever they stand, and blind nobody: order within %s",
    async (within) => {
      const folder = folderWith({ "logs/LM-01.csv": text(wildHour), "logs/LM-02.csv": logText(silent) });
      const fleet = fleetOf(
        fleetFile(["{ id: LM-01 }", "{ id: LM-02 }"], `order_within: ${within}\n`),
        folder,
      );
      const toMs = midnight + 3600_000;
      const read = await readOnce(
        { ...fleet, logs: join(folder, "logs") },
        { toMs, clockMs: toMs, services: [] },
      );
      const [wild, other] = read.units;
      expect(wild?.findings).toEqual([]);
      expect(wild?.view).toMatchObject({ problem: null, log: { rows: 360, rejected: 0, late: 0 } });
      expect(wild?.view.lastReadingMs).toBe(midnight + 3590_000);
      expect(read.newestMs).toBe(midnight + 3590_000);
      expect(other?.findings).toMatchObject([{ alarm: "readings-stale", timeMs: midnight + 1850_000 }]);
    },
  );

  it("neither count for check --at nor for replay --to", async () => {
    const cwd = folderWith({
      "fleet.yaml": fleetFile(["{ id: LM-01 }"]),
      "logs/LM-01.csv": text(wildHour) + primeLost,
    });
    const at = "2026-05-04T01:01:00Z";
    const check = await run(["check", "--json", "--at", at], { cwd });
    const [unit] = statusShape.parse(JSON.parse(check.stdout)).units;
    expect(unit).toMatchObject({ state: "running", last_reading: "2026-05-04T01:01:00.000Z", problem: null });
    expect(unit?.alarms.map(({ alarm }) => alarm)).toEqual(["lost-prime"]);
    const replay = await run(["replay", "fleet.yaml", "--events", "-", "--to", at], { cwd });
    expect(replay).toMatchObject({ status: 0, stderr: "" });
    expect(eventsIn(replay.stdout)).toMatchObject([
      { alarm: "lost-prime", time: "2026-05-04T01:00:30.000Z" },
    ]);
  });
});
