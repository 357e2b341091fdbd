import { describe, expect, it } from "vitest";
import { called } from "../support/called.ts";
import { fleetFile, stopped } from "../support/fleets.ts";
import { followFleet } from "../support/followed.ts";
import { logText } from "../support/log-files.ts";
import { playFleet, toldBy } from "../support/played.ts";
import { folderWith } from "../support/program.ts";
import { statusShape } from "../support/status-shape.ts";
import { clean, hourClean, readings } from "../support/unit-days.ts";

/** Laid up from 16 November to 31 March by the wall clock in Chicago; its logger went on for a few days. */
const season = ", season: 04-01..11-15";
const chicago = "timezone: America/Chicago\n";
const lastHour = readings([hourClean], 10, Date.parse("2026-11-20T17:00:00Z"));
const laidUp = { yaml: `{ id: LM-01${season} }`, batch: lastHour };
/** Another unit of the fleet, all year round: a reading every ten minutes, so that the fleet's time goes on. */
const allYear = (from: string, to: string) => ({
  yaml: "{ id: LM-02, sample_interval: 10 min }",
  batch: readings(
    [{ seconds: (Date.parse(to) - Date.parse(from)) / 1000, values: clean }],
    600,
    Date.parse(from),
  ),
});

describe("a unit whose logger goes quiet while it is laid up", () => {
  it("is not stale by the clock of who follows it, and is laid up", async () => {
    const { unit } = await followFleet(
      [{ id: "LM-01", more: season, text: logText(lastHour) }],
      "2027-01-10T12:00:00Z",
      chicago,
    );
    expect(unit("LM-01")).toMatchObject({ state: "laid up", alarms: [], problem: null });
  });

  it("becomes stale before the eyes of who follows it when its season begins", async () => {
    const { unit, setClock, until } = await followFleet(
      [{ id: "LM-01", more: season, text: logText(lastHour) }],
      "2027-03-31T23:59:59.999-05:00",
      chicago,
    );
    expect(unit("LM-01")).toMatchObject({ state: "laid up", alarms: [] });
    setClock("2027-04-01T00:00:01-05:00");
    await until(() =>
      expect(unit("LM-01")).toMatchObject({
        state: "no readings",
        alarms: [{ alarm: "readings-stale", raisedMs: Date.parse("2027-04-01T00:00:00-05:00") }],
      }),
    );
  });

  it.each([
    ["2026-11-21T00:00:00Z", 0, "laid up"],
    ["2027-04-01T04:59:59Z", 0, "laid up"],
    ["2027-04-01T05:00:00Z", 1, "no readings"],
  ] as const)("is judged by check --at %s: exit %i, %s", async (at, status, state) => {
    const cwd = folderWith({
      "fleet.yaml": fleetFile([laidUp.yaml], chicago),
      "logs/LM-01.csv": logText(lastHour),
    });
    const ended = await called(["check", "--json", "--at", at], { cwd });
    expect(ended).toMatchObject({ status, stderr: "" });
    const [unit] = statusShape.parse(JSON.parse(ended.stdout)).units;
    expect(unit?.state).toBe(state);
    expect(unit?.alarms.map(({ alarm }) => alarm)).toEqual(status === 1 ? ["readings-stale"] : []);
  });

  it("is judged by the end of a replay", async () => {
    const to = (time: string) => playFleet([laidUp], { toMs: Date.parse(time) }, chicago);
    expect(toldBy(await to("2027-04-01T04:59:59Z"))).toEqual([]);
    expect(toldBy(await to("2027-04-01T05:00:00Z"))).toEqual(["LM-01 05:00:00 raised readings-stale"]);
  });

  it("is stale in a replay from the beginning of its season to its first reading", async () => {
    const spring = readings([{ seconds: 600, values: clean }], 10, Date.parse("2027-04-02T12:00:00Z"));
    const both = {
      rows: lastHour.rows + spring.rows,
      timeMs: Float64Array.from([...lastHour.timeMs, ...spring.timeMs]),
      columns: lastHour.columns.map((column, i) =>
        column === undefined ? undefined : Float64Array.from([...column, ...(spring.columns[i] ?? [])]),
      ),
    };
    const other = allYear("2026-11-20T17:00:00Z", "2027-04-02T12:10:00Z");
    const read = await playFleet([{ ...laidUp, batch: both }, other], {}, chicago);
    expect(toldBy(read).filter((line) => line.startsWith("LM-01"))).toEqual([
      "LM-01 05:00:00 raised readings-stale",
      "LM-01 12:00:00 cleared readings-stale",
    ]);
    expect(read.units[0]?.findings[0]?.timeMs).toBe(Date.parse("2027-04-01T05:00:00Z"));
  });
});

describe("a unit that is switched off before its season is over", () => {
  const june = readings(
    [hourClean, { seconds: 3600, values: stopped }],
    60,
    Date.parse("2026-06-01T12:00:00Z"),
  );
  const other = allYear("2026-06-01T12:00:00Z", "2026-06-03T00:00:00Z");
  const record = (kind: string, at: string) => `{ unit: LM-01, kind: ${kind}, at: 2026-06-0${at}:00Z }`;
  const played = (more: string, records: readonly string[], batch = june, toMs?: number) =>
    playFleet(
      [{ yaml: `{ id: LM-01${more} }`, batch }, other],
      { toMs },
      `services: [${records.join(", ")}]\n`,
    );

  it("is not stale once it is laid up on record, and is from its start-up on", async () => {
    const read = await played("", [record("lay-up", "1T13:59"), record("start-up", "2T08:00")]);
    expect(toldBy(read)).toEqual(["LM-01 08:00:00 raised readings-stale"]);
    const [unit] = (await played("", [record("lay-up", "1T13:59")])).units;
    expect(unit?.view).toMatchObject({
      state: "laid up",
      sinceMs: Date.parse("2026-06-01T13:59:00Z"),
      alarms: [],
    });
  });

  it("is asked about no more once somebody tells that it was laid up", async () => {
    expect(toldBy(await played(", runs: always", [record("lay-up", "1T18:00")]))).toEqual([
      "LM-01 13:03:00 raised not-running",
      "LM-01 14:04:00 raised readings-stale",
      "LM-01 18:00:00 cleared not-running",
      "LM-01 18:00:00 cleared readings-stale",
    ]);
    // Its logger goes on, and shows a motor that stands as it should.
    expect(toldBy(await played(", runs: always", [record("lay-up", "1T13:01")]))).toEqual([]);
  });

  it("is laid up no more once it was started, whether or not that is on record", async () => {
    const started = readings(
      [...[hourClean, { seconds: 3600, values: stopped }], hourClean, { seconds: 3600, values: stopped }],
      60,
      Date.parse("2026-06-01T12:00:00Z"),
    );
    const told = toldBy(await played("", [record("lay-up", "1T13:30")], started));
    expect(told).toEqual(["LM-01 16:04:00 raised readings-stale"]);
  });

  it("is not laid up at all where it runs on for an hour: that was said of another", async () => {
    const running = readings([{ ...hourClean, seconds: 3 * 3600 }], 60, Date.parse("2026-06-01T12:00:00Z"));
    const told = toldBy(await played("", [record("lay-up", "1T12:30")], running));
    expect(told).toEqual(["LM-01 15:04:00 raised readings-stale"]);
    const justLaidUp = readings([hourClean], 60, Date.parse("2026-06-01T12:00:00Z"));
    expect(toldBy(await played("", [record("lay-up", "1T12:30")], justLaidUp))).toEqual([]);
  });

  it("is asked for what fell due meanwhile from its start on, not from within its lay-up", async () => {
    const started = readings(
      [
        { seconds: 3600, values: clean },
        { seconds: 4 * 86_400, values: stopped },
        { seconds: 3600, values: clean },
        { seconds: 2 * 3600, values: stopped },
      ],
      600,
      Date.parse("2026-06-01T12:00:00Z"),
    );
    const inspected = ", sample_interval: 10 min, runs: always, service: { inspection_every: 2 d }";
    const told = toldBy(await played(inspected, [record("lay-up", "1T13:00")], started));
    expect(told.filter((line) => line.startsWith("LM-01"))).toEqual([
      "LM-01 13:00:00 raised service-overdue",
      "LM-01 14:30:00 raised not-running",
    ]);
  });

  it("is stale until its season is over, and not again before the next", async () => {
    const read = await playFleet(
      [{ yaml: `{ id: LM-01${season} }`, batch: june }],
      {
        toMs: Date.parse("2027-04-02T00:00:00Z"),
      },
      chicago,
    );
    const told = read.units[0]?.findings.map(({ timeMs, event, alarm }) =>
      [new Date(timeMs).toISOString(), event, alarm].join(" "),
    );
    expect(told?.filter((line) => line.includes("stale"))).toEqual([
      "2026-06-01T14:04:00.000Z raised readings-stale",
      "2026-11-16T06:00:00.000Z cleared readings-stale",
      "2027-04-01T05:00:00.000Z raised readings-stale",
    ]);
    const winter = await playFleet(
      [{ yaml: `{ id: LM-01${season} }`, batch: june }],
      {
        toMs: Date.parse("2027-01-02T00:00:00Z"),
      },
      chicago,
    );
    expect(winter.units[0]?.view).toMatchObject({
      state: "laid up",
      sinceMs: Date.parse("2026-11-16T06:00:00Z"),
      alarms: [],
    });
  });
});
