import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeUnit, encodeUnit } from "../src/collector/checkpoint.ts";
import { step, type UnitState } from "../src/engine.ts";
import type { ServiceRecord } from "../src/fleet/unit.ts";
import type { ReadingBatch } from "../src/terms/batch.ts";
import type { Finding } from "../src/terms/events.ts";
import {
  but,
  clean,
  hourClean,
  lines,
  midnight,
  readings,
  rowsOf,
  run,
  start,
  unitOf,
  type Values,
} from "./support/unit-days.ts";

const unit = unitOf("{ id: LM-01, runs: always, motor: { full_load_current: 9.8 A } }");
const stopped: Values = {
  motor_current: 0,
  motor_temperature: 45,
  suction_pressure: -1,
  discharge_pressure: 0,
  gas_pressure: 0,
  ozone: 1,
};
const dry: Values = { motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5 };

/** A day's worth of everything: lost prime with the ozone on, overheating behind it, ozone off, a stop with the ozone on. */
const eventful: ReadingBatch = readings([
  hourClean,
  { seconds: 300, values: but(dry) },
  { seconds: 600, values: but({ ...dry, motor_temperature: 95 }) },
  { seconds: 600, values: but({ motor_temperature: 95 }) },
  { seconds: 900, values: but({ ozone: 0 }) },
  { seconds: 600, values: stopped },
  { seconds: 900, values: clean },
]);

const whole = run(start(unit), { kind: "readings", batch: eventful });

describe("the engine", () => {
  it("does not wait for a cause that stays in its deadband: a hot motor is told", () => {
    const unit = unitOf("{ id: LM-01, ozone: none, motor: { full_load_current: 9.8 A } }");
    // Prime lost for a moment, then in its deadband for hours, while the shell heats up.
    const half = { motor_current: 8, discharge_pressure: 23, suction_pressure: -12, motor_temperature: 97 };
    const told = lines(
      run(start(unit), {
        kind: "readings",
        batch: readings([
          hourClean,
          { seconds: 20, values: but({ ...half, discharge_pressure: 10 }) },
          { seconds: 7200, values: but(half) },
        ]),
      }),
    );
    expect(told.some((line) => line.includes("raised overheating"))).toBe(true);
  });

  it("tells an eventful day in order", () => {
    expect(lines(whole)).toEqual([
      "01:00:30 raised lost-prime",
      "01:01:00 raised ozone-without-water",
      "01:06:00 suppressed overheating by lost-prime",
      "01:15:30 cleared lost-prime",
      "01:15:30 unsuppressed overheating",
      "01:18:00 cleared ozone-without-water",
      "01:26:00 cleared overheating",
      "01:27:00 raised ozone-off",
      "01:40:30 raised not-running",
      "01:40:30 cleared ozone-off",
      "01:41:00 raised ozone-while-stopped",
      "01:50:30 cleared ozone-while-stopped",
      "02:00:00 cleared not-running",
    ]);
  });

  it("tells the same however the readings are split", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(eventful.rows), { maxLength: 12 }), (cuts) => {
        expect(played(start(unit), cuts)).toEqual(whole);
      }),
      { numRuns: 60 },
    );
  });

  it("goes on to the same from its own encoding, taken after any reading", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: eventful.rows }), (row) => {
        const first = start(unit);
        const findings = step(first, { kind: "readings", batch: rowsOf(eventful, 0, row) });
        const { state, anew } = decodeUnit(unit, { timezone: "UTC" }, encodeUnit(first));
        expect(anew).toEqual([]);
        findings.push(...step(state, { kind: "readings", batch: rowsOf(eventful, row, eventful.rows) }));
        expect(findings).toEqual(whole);
      }),
      { numRuns: 100 },
    );
  });

  it("starts only the parts anew whose settings changed", () => {
    const text = encodeUnit(start(unit));
    const changed = unitOf(
      "{ id: LM-01, runs: always, motor: { full_load_current: 9.8 A }, limits: { overheating: { deadband: 4 K } } }",
    );
    expect(decodeUnit(changed, { timezone: "UTC" }, text).anew).toEqual(["overheating"]);
  });
});

describe("a silent unit", () => {
  const clock = (seconds: number) =>
    ({ kind: "clock", timeMs: midnight + 3590_000 + seconds * 1000 }) as const;

  it("goes stale after a minute at 10 s, by the clock alone, since its last reading", () => {
    const state = start(unit);
    run(state, { kind: "readings", batch: readings([hourClean]) });
    expect(run(state, clock(59))).toEqual([]);
    const [finding] = run(state, clock(75));
    expect(finding).toMatchObject({ alarm: "readings-stale", event: "raised", priority: "medium" });
    expect(finding.timeMs).toBe(midnight + 3650_000);
    expect(finding.sinceMs).toBe(midnight + 3590_000);
    expect(run(state, clock(500))).toEqual([]);
  });

  it("is waited for five intervals or two deliveries, whichever is longer", () => {
    const slow = start(unitOf("{ id: LM-01, sample_interval: 60 s }"));
    run(slow, { kind: "readings", batch: readings([hourClean], 60) });
    expect(run(slow, { kind: "clock", timeMs: midnight + 3540_000 + 299_000 })).toEqual([]);
    expect(run(slow, { kind: "clock", timeMs: midnight + 3540_000 + 300_000 })).toHaveLength(1);
    const delivered = start(unitOf("{ id: LM-01, arrives_every: 1 h }"));
    run(delivered, { kind: "readings", batch: readings([hourClean]) });
    expect(run(delivered, clock(7199))).toEqual([]);
    expect(run(delivered, clock(7200))).toHaveLength(1);
  });

  it("is high where the logger shares the pump's outlet", () => {
    const state = start(unitOf("{ id: LM-01, logger_power: same outlet }"));
    run(state, { kind: "readings", batch: readings([hourClean]) });
    expect(run(state, clock(60))[0]).toMatchObject({ alarm: "readings-stale", priority: "high" });
  });

  it("is no longer stale at its next reading", () => {
    const state = start(unit);
    run(state, { kind: "readings", batch: readings([hourClean]) }, clock(300));
    const later = readings([{ seconds: 60, values: clean }], 10, midnight + 2 * 3600_000);
    expect(lines(run(state, { kind: "readings", batch: later }))).toEqual([
      "02:00:00 cleared readings-stale",
    ]);
  });
});

describe("a silent unit with a season", () => {
  const seasonal = unitOf("{ id: LM-01, season: 04-01..11-15 }");
  const at = (time: string) => ({ kind: "clock", timeMs: Date.parse(time) }) as const;
  const hourFrom = (time: string) =>
    ({ kind: "readings", batch: readings([hourClean], 10, Date.parse(time)) }) as const;

  it("is not stale while it is laid up, and is from the first hour of its season on", () => {
    const state = start(seasonal);
    run(state, hourFrom("2026-11-20T10:00:00Z"));
    expect(run(state, at("2026-11-20T11:30:00Z"), at("2027-03-31T23:59:59Z"))).toEqual([]);
    expect(run(state, at("2027-04-01T00:00:00Z"))).toMatchObject([
      {
        alarm: "readings-stale",
        event: "raised",
        timeMs: Date.parse("2027-04-01T00:00:00Z"),
        sinceMs: Date.parse("2026-11-20T10:59:50Z"),
      },
    ]);
  });

  it("is stale where its silence began in season", () => {
    const state = start(seasonal);
    run(state, hourFrom("2026-11-15T10:00:00Z"));
    expect(lines(run(state, at("2026-12-24T00:00:00Z")))).toEqual(["11:00:50 raised readings-stale"]);
  });

  it("is not stale where its season ended before the silence was long enough", () => {
    const state = start(seasonal);
    run(state, hourFrom("2026-11-15T22:59:30Z"));
    expect(run(state, at("2026-12-24T00:00:00Z"))).toEqual([]);
  });
});

describe("a unit under service", () => {
  const service = (step: "begin" | "end", atS: number, work: ServiceRecord["work"] = "cleaning") =>
    ({
      kind: "service",
      record: { unit: "LM-01", work, step, atMs: midnight + atS * 1000 },
    }) as const;

  it("has its process alarms suppressed by that, and told when they outlive it; ozone alarms stay", () => {
    const state = start(unit);
    const opened = readings([{ seconds: 600, values: stopped }], 10, midnight + 3600_000);
    const findings = run(
      state,
      { kind: "readings", batch: readings([hourClean]) },
      service("begin", 3595),
      { kind: "readings", batch: opened },
      service("end", 4200),
    );
    expect(lines(findings)).toEqual([
      "01:00:30 suppressed not-running by service",
      "01:01:00 raised ozone-while-stopped",
      "01:10:00 unsuppressed not-running",
    ]);
  });

  it("is so no longer once its planned stop has run out, and nobody ended it", () => {
    const state = start(unit);
    const opened = readings([{ seconds: 600, values: { ...stopped, ozone: 0 } }], 10, midnight + 3600_000);
    const stop = { unit: "LM-01", work: "planned stop", atMs: midnight + 3595_000 } as const;
    const findings = run(
      state,
      { kind: "readings", batch: readings([hourClean]) },
      { kind: "service", record: { ...stop, step: "begin", untilMs: midnight + 4200_000 } },
      { kind: "readings", batch: opened },
      { kind: "service", record: { ...stop, step: "lapse", atMs: midnight + 4200_000 } },
    );
    expect(lines(findings)).toEqual([
      "01:00:30 suppressed not-running by service",
      "01:10:00 unsuppressed not-running",
    ]);
  });

  it("stays so where what lapses was begun anew for longer", () => {
    const state = start(unit);
    const stop = { unit: "LM-01", work: "planned stop", step: "begin", atMs: midnight } as const;
    run(
      state,
      { kind: "service", record: { ...stop, untilMs: midnight + 600_000 } },
      { kind: "service", record: { ...stop, untilMs: midnight + 900_000 } },
      { kind: "service", record: { ...stop, step: "lapse", atMs: midnight + 600_000 } },
    );
    expect(state.openServices).toHaveLength(1);
  });

  it.each([
    ["planned stop", "inspection"],
    ["inspection", "planned stop"],
    ["repair", "cleaning"],
  ] as const)("stays so until the last of two ends: %s, within it %s", (outer, inner) => {
    const state = start(unit);
    const opened = readings([{ seconds: 600, values: { ...stopped, ozone: 0 } }], 10, midnight + 3600_000);
    const findings = run(
      state,
      { kind: "readings", batch: readings([hourClean]) },
      service("begin", 3595, outer),
      service("begin", 3596, inner),
      { kind: "readings", batch: opened },
      service("end", 4200, inner),
      service("end", 4260, outer),
    );
    expect(lines(findings)).toEqual([
      "01:00:30 suppressed not-running by service",
      "01:11:00 unsuppressed not-running",
    ]);
  });
});

function played(state: UnitState, cuts: readonly number[]): Finding[] {
  const findings: Finding[] = [];
  let from = 0;
  for (const to of [...cuts, eventful.rows].sort((a, b) => a - b)) {
    findings.push(...step(state, { kind: "readings", batch: rowsOf(eventful, from, to) }));
    from = to;
  }
  return findings;
}
