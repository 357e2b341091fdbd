import { describe, expect, it, vi } from "vitest";
import { summedPast } from "../../src/collector/past.ts";
import { readOnce } from "../../src/collector/read-once.ts";
import { dry, stopped } from "../support/fleets.ts";
import { but, clean, hourClean, midnight, readings, rowsOf, type Stretch } from "../support/unit-days.ts";
import { goTo, recorded } from "./recorded.ts";

const at = (time: string) => Date.parse(`2026-05-04T${time}Z`);

/** Prime lost with overheating behind it, ozone off, a stop; then hours of clean running, at a reading a second. */
const eventful: readonly Stretch[] = [
  hourClean,
  { seconds: 900, values: but({ ...dry, motor_temperature: 95 }) },
  { seconds: 900, values: but({ motor_temperature: 95, ozone: 0 }) },
  { seconds: 600, values: { ...stopped, ozone: 1 } },
  { seconds: 10_800, values: clean },
];
const service = "services: [{ unit: LM-01, kind: repair begin, at: 2026-05-04T03:00:07Z }]\n";
const other = readings([{ seconds: 16_800, values: clean }], 10);
const silent = rowsOf(other, 0, 300);

const { fleet, events, recording } = await recorded(
  [
    { id: "LM-01", yaml: ", runs: always", batch: readings(eventful, 1) },
    { id: "LM-02", batch: other },
    { id: "LM-03", batch: silent },
  ],
  { top: service },
);

describe("a recording played to a time", () => {
  it("shows what a reading of the logs up to then shows, from whichever time it came there", async () => {
    const times = [
      ...["01:00:29", "04:30:00", "01:00:30", "01:10:00", "00:00:00", "03:00:07", "01:41:31", "04:39:59"],
      ...["03:10:00", "02:50:00", "04:20:00", "03:00:06"],
    ];
    for (const time of [...times, ...times.toReversed()]) {
      const toMs = at(time);
      await goTo(recording, toMs);
      const { units } = await readOnce(fleet, { services: fleet.services, toMs });
      const shown = recording.view(toMs).units.map(({ log: _, problem: __, trend: ___, ...unit }) => unit);
      expect(shown, time).toEqual(units.map(({ view: { log: _, problem: __, ...unit } }) => unit));
    }
  });

  it("has those alarms standing that were told by then and not cleared", async () => {
    for (const { timeMs } of events.toReversed()) {
      await goTo(recording, timeMs);
      const standing = new Set<string>();
      for (const { unit, alarm, event, timeMs: toldMs } of events) {
        if (toldMs > timeMs) continue;
        if (event === "cleared") standing.delete(`${unit} ${alarm}`);
        else standing.add(`${unit} ${alarm}`);
      }
      const shown = recording
        .view(timeMs)
        .units.flatMap(({ id, alarms }) => alarms.map((a) => `${id} ${a.alarm}`));
      expect(new Set(shown), new Date(timeMs).toISOString()).toEqual(standing);
    }
    expect(events.length).toBeGreaterThan(8);
  });

  it("knows nothing of what comes later, in charts either", async () => {
    await goTo(recording, recording.toMs);
    const playedMs = at("01:20:00");
    await goTo(recording, playedMs);
    const of = recording.past("LM-01", playedMs);
    const past = of && summedPast(of, { fromMs: at("00:00:00"), toMs: at("04:00:00"), points: 240 });
    const [current] = past?.signals ?? [];
    const known = past?.timeMs.filter((_, k) => !Number.isNaN(current?.low[k]));
    expect(known?.at(0)).toBeLessThan(at("00:02:00"));
    expect(known?.at(-1)).toBeGreaterThan(at("01:19:00"));
    expect(known?.at(-1)).toBeLessThan(at("01:21:00"));
    expect(past?.events.map(({ alarm }) => alarm)).toContain("lost-prime");
    expect(Math.max(...(past?.events.map(({ timeMs }) => timeMs) ?? []))).toBeLessThanOrEqual(playedMs);
  });

  it("breaks off the way where it is asked to, and gets there by another", async () => {
    await goTo(recording, recording.fromMs);
    // However quick the machine is, a turn is over each time somebody looks.
    let nowMs = 0;
    const clock = vi.spyOn(performance, "now").mockImplementation(() => (nowMs += 1000));
    expect(await recording.goTo(recording.toMs, () => true)).toBe(false);
    clock.mockRestore();
    await goTo(recording, at("01:00:30"));
    const [unit] = recording.view(at("01:00:30")).units;
    expect(unit.alarms.map(({ alarm }) => alarm)).toEqual(["lost-prime"]);
  });
});

describe("a recording's alarms and readings", () => {
  it("are found forwards and backwards, of one unit or of any", () => {
    const next = recording.alarm("next", midnight, null);
    expect(next).toMatchObject({ unit: "LM-03", alarm: "readings-stale", timeMs: at("00:50:50") });
    expect(recording.alarm("next", midnight, "LM-01")).toMatchObject({ alarm: "lost-prime" });
    expect(recording.alarm("last", at("01:00:30"), "LM-01")).toBeUndefined();
    expect(recording.alarm("last", at("01:00:31"), "LM-01")).toMatchObject({ timeMs: at("01:00:30") });
    expect(recording.alarm("next", recording.toMs, null)).toBeUndefined();
  });

  it("follow one another by the units' own intervals", async () => {
    await goTo(recording, at("00:10:00"));
    expect(recording.nextReadingMs(null)).toBe(at("00:10:01"));
    expect(recording.nextReadingMs("LM-02")).toBe(at("00:10:10"));
    await goTo(recording, recording.toMs);
    expect(recording.nextReadingMs(null)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("a silence of the whole fleet", () => {
  it("makes no unit stale: its time did not go on", async () => {
    const late = readings([{ seconds: 600, values: clean }], 10, midnight + 3 * 3600_000);
    const joined = { ...late, rows: silent.rows + late.rows };
    const batch = {
      ...joined,
      timeMs: Float64Array.from([...silent.timeMs, ...late.timeMs]),
      columns: late.columns.map((column, c) => {
        const first = silent.columns[c];
        return first && column && Float64Array.from([...first, ...column]);
      }),
    };
    const { recording: night, events: told } = await recorded([
      { id: "LM-01", batch },
      { id: "LM-02", batch },
    ]);
    expect(told).toEqual([]);
    await goTo(night, at("02:00:00"));
    expect(night.view(at("02:00:00")).units.flatMap(({ alarms }) => alarms)).toEqual([]);
  });
});
