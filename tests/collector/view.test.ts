import { describe, expect, it } from "vitest";
import { noteEvent, startResponse, type UnitResponses } from "../../src/assess/response.ts";
import type { LogView } from "../../src/collector/fleet-view.ts";
import { noteIn } from "../../src/collector/respond.ts";
import { viewUnit } from "../../src/collector/view.ts";
import { partlyJudgedWords } from "../../src/dashboard/partly-judged.ts";
import type { Input } from "../../src/engine.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { dry, primeLost, quietDay, stopped } from "../support/fleets.ts";
import {
  but,
  clean,
  hourClean,
  midnight,
  readings,
  run,
  type Stretch,
  start,
  unitOf,
} from "../support/unit-days.ts";

const log: LogView = { files: [], rows: 0, repeats: 0, late: 0, rejected: 0, newestRejected: [] };

function viewed(yaml: string, stretches: readonly Stretch[], more: readonly Input[] = [], afterS = 0) {
  const batch = readings(stretches);
  const state = start(unitOf(yaml));
  run(state, { kind: "readings", batch }, ...more);
  return viewUnit(state, { display: "si", timezone: "UTC" }, log, null, endOf(batch) + afterS * 1000);
}

const endOf = (batch: ReadingBatch) => batch.timeMs[batch.rows - 1];
const at = (second: number) => midnight + second * 1000;
const plain = "{ id: LM-01, motor: { full_load_current: 9.8 A } }";

describe("a unit's state", () => {
  it("is running with prime, since prime was established", () => {
    expect(viewed(plain, [hourClean])).toMatchObject({ state: "running", sinceMs: at(10) });
  });

  it("is priming while a start has no pressure yet, since it started", () => {
    const start: Stretch[] = [
      { seconds: 60, values: stopped },
      { seconds: 60, values: but(dry) },
    ];
    expect(viewed(plain, start)).toMatchObject({ state: "priming", sinceMs: at(60) });
  });

  it("is stopped, since it stopped", () => {
    expect(viewed(plain, [hourClean, { seconds: 60, values: stopped }])).toMatchObject({
      state: "stopped",
      sinceMs: at(3600),
    });
  });

  it("is laid up out of season while it stands still, and running where it runs all the same", () => {
    const winter = "{ id: LM-01, season: 06-01..09-15 }";
    expect(viewed(winter, [{ seconds: 60, values: stopped }]).state).toBe("laid up");
    expect(viewed(winter, [{ seconds: 60, values: stopped }], [], 900).state).toBe("laid up");
    expect(viewed(winter, [hourClean]).state).toBe("running");
  });

  it("is under service from its begin to its end, whatever the readings say", () => {
    const service = (step: "begin" | "end"): Input => ({
      kind: "service",
      record: { unit: "LM-01", work: "cleaning", step, atMs: at(3600) },
    });
    expect(viewed(plain, [hourClean], [service("begin")])).toMatchObject({
      state: "under service",
      sinceMs: at(3600),
    });
    expect(viewed(plain, [hourClean], [service("begin")], 900).state).toBe("under service");
    expect(viewed(plain, [hourClean], [service("begin"), service("end")]).state).toBe("running");
  });

  it("is no readings once they are stale, since the last one", () => {
    expect(viewed(plain, [hourClean], [], 59).state).toBe("running");
    expect(viewed(plain, [hourClean], [], 60)).toMatchObject({ state: "no readings", sinceMs: at(3590) });
  });

  it("is no readings where there never was one", () => {
    const view = viewUnit(start(unitOf(plain)), { display: "si", timezone: "UTC" }, log, "no log", at(0));
    expect(view).toMatchObject({
      state: "no readings",
      sinceMs: null,
      lastReadingMs: null,
      intervalMs: null,
      readings: [],
      baseline: null,
      problem: "no log",
    });
    expect(new Set(view.quiet.map(({ why }) => why))).toContain("no reading yet");
    expect(view.quiet.filter(({ why }) => why.endsWith(" in the log"))).toEqual([]);
  });
});

it("an alarm that stood when its settings changed is told as judged anew until its delay has run", () => {
  const seen = (seconds: number) => {
    const batch = readings([hourClean, { seconds, values: clean }]);
    const state = start(unitOf(`{ id: LM-01, limits: { lost-prime: { delay: 9 min } } }`));
    run(state, { kind: "readings", batch });
    const responses = { "lost-prime": startResponse() };
    const changed = { timeMs: at(3600), unit: "LM-01", event: "settings-changed", priority: "high", seq: 2 };
    noteEvent(responses["lost-prime"], changed as Parameters<typeof noteEvent>[1], false);
    const fleet = { display: "si", timezone: "America/Chicago" } as const;
    return partlyJudgedWords(viewUnit(state, fleet, log, null, endOf(batch), responses));
  };
  expect(seen(300)).toContain(
    "lost prime is judged anew since 2026-05-03 20:00, its settings changed; it stood until then",
  );
  expect(seen(600) ?? "").not.toContain("anew");
});

describe("a unit's readings", () => {
  const reading = (view: ReturnType<typeof viewed>, channel: string) =>
    view.readings.find((r) => r.channel === channel);

  it("are those of the channels that its log has, in the channels' order", () => {
    expect(viewed(plain, [hourClean]).readings.map(({ channel }) => channel)).toEqual([
      "motor_current",
      "motor_temperature",
      "suction_pressure",
      "discharge_pressure",
      "gas_pressure",
      "ozone",
    ]);
  });

  it("carry their normal band about the baseline, and no band for a status", () => {
    const view = viewed(plain, [hourClean]);
    const { normal } = reading(view, "discharge_pressure") ?? {};
    expect(normal?.center).toBeCloseTo(86, 0);
    expect(normal?.low).toBeLessThanOrEqual(86 * 0.96);
    expect(normal?.high).toBeGreaterThanOrEqual(86 * 1.04);
    expect(reading(view, "ozone")?.normal).toBeNull();
    expect(
      reading(viewed(plain, [{ seconds: 600, values: clean }]), "discharge_pressure")?.normal,
    ).toBeNull();
  });

  it("carry the limits past which alarms come: collapse of pressure, temperature by insulation class", () => {
    const view = viewed("{ id: LM-01, motor: { insulation_class: F } }", [hourClean]);
    expect(reading(view, "motor_temperature")).toMatchObject({ limitHigh: 105, limitLow: null });
    expect(reading(view, "discharge_pressure")?.limitLow).toBeCloseTo(0.2 * 86, 0);
    expect(reading(view, "gas_pressure")).toMatchObject({ limitLow: null, limitHigh: null });
  });

  it("are null once too old to count, though the unit still reads", () => {
    const lost: Stretch = { seconds: 120, values: (s) => ({ ...clean(s), gas_pressure: undefined }) };
    const view = viewed(plain, [hourClean, lost]);
    expect(reading(view, "gas_pressure")?.value).toBeNull();
    expect(reading(view, "motor_current")?.value).toBeGreaterThan(9);
    expect(viewed(plain, [hourClean, { ...lost, seconds: 20 }]).readings[4].value).toBeGreaterThan(20);
  });
});

describe("a unit's alarms", () => {
  it("tell of which reading their numbers are: a motor raised as it warms is said anew once it reaches its limit", () => {
    const blocked: Stretch = {
      seconds: 2.5 * 3600,
      values: (s) => but({ motor_temperature: 58 + 52 * (1 - Math.exp(-s / 5400)) })(s),
    };
    const reachesS = 3600 + 5400 * Math.log(52 / 20);
    const [hot] = viewed(plain, [hourClean, blocked]).alarms;
    expect(hot.raisedMs).toBeLessThan(at(reachesS) - 5 * 60_000);
    expect(hot.saidMs).toBeGreaterThanOrEqual(at(reachesS));
    expect(hot.saidMs).toBeLessThan(at(reachesS) + 20_000);
    const pumping = viewed(plain, [hourClean, { seconds: 600, values: but(dry) }]).alarms[0];
    expect(pumping.saidMs).toBe(pumping.raisedMs);
  });

  it("tell since when the condition is gone while the off-delay runs, but not of what wavers or after a silence", () => {
    const runsAgain = (seconds: number, afterS = 0) => {
      const stretches = [hourClean, { seconds: 600, values: stopped }, { seconds, values: clean }];
      const { alarms } = viewed("{ id: LM-01, runs: always }", stretches, [], afterS);
      return alarms.find(({ alarm }) => alarm === "not-running");
    };
    expect(runsAgain(300)?.clearing).toEqual({ sinceMs: at(4200), atMs: at(4800) });
    for (const one of [runsAgain(20), runsAgain(300, 120)]) {
      expect(one).toBeDefined();
      expect(one?.clearing).toBeUndefined();
    }
  });

  it("are its open ones with their numbers and guidance, most urgent first", () => {
    const both: Stretch = { seconds: 600, values: but({ ozone: 0, motor_temperature: 95 }) };
    const { alarms } = viewed(plain, [hourClean, both]);
    expect(alarms.map(({ alarm, priority }) => `${priority} ${alarm}`)).toEqual([
      "high overheating",
      "medium ozone-off",
    ]);
    expect(alarms[0]).toMatchObject({
      sinceMs: at(3600),
      raisedMs: at(3660),
      state: "active-unacknowledged",
      by: null,
      evidence: { motor_temperature: { value: 95, limit: 90, unit: "°C" } },
    });
    expect(alarms[0].guidance.actions.length).toBeGreaterThan(0);
  });

  it("show a consequence as suppressed, with its cause", () => {
    const hot: Stretch = { seconds: 300, values: but({ ...dry, motor_temperature: 95 }) };
    const { alarms } = viewed("{ id: LM-01, ozone: none }", [...primeLost, hot]);
    expect(alarms.map(({ alarm, state, by }) => [alarm, state, by])).toEqual([
      ["lost-prime", "active-unacknowledged", null],
      ["overheating", "suppressed", "lost-prime"],
    ]);
  });
});

describe("a silence that is over", () => {
  it("is told with its own length, however long ago it was", () => {
    const state = start(unitOf(plain));
    const again = readings([hourClean], 10, at(3600 + 350));
    run(state, { kind: "readings", batch: readings([hourClean]) }, { kind: "clock", timeMs: at(3900) });
    run(state, { kind: "readings", batch: again });
    const responses: UnitResponses = {};
    const event = { unit: "LM-01", priority: "medium", alarm: "readings-stale" } as const;
    const raised = { ...event, event: "raised", timeMs: at(3650), seq: 1 } as const;
    noteIn(responses, state.unit, { ...raised, sinceMs: at(3590), message: "", evidence: {} });
    const cleared = { ...event, event: "cleared", timeMs: at(3950), seq: 2 } as const;
    noteIn(responses, state.unit, { ...cleared, sinceMs: at(3950), message: "", evidence: {} });
    const { alarms } = viewUnit(
      state,
      { display: "si", timezone: "UTC" },
      log,
      null,
      endOf(again),
      responses,
    );
    expect(alarms).toMatchObject([{ alarm: "readings-stale", state: "returned-unacknowledged" }]);
    expect(alarms[0].message).toBe("No reading came for 6 min; since then readings come again.");
  });
});

describe("an alarm that outlives the service that suppressed it", () => {
  it("is shown under the cause that suppresses it now", () => {
    const service = (step: "begin" | "end", second: number): Input => ({
      kind: "service",
      record: { unit: "LM-01", work: "repair", step, atMs: at(second) },
    });
    const state = start(unitOf("{ id: LM-01, ozone: none }"));
    const hot: Stretch = { seconds: 900, values: but({ ...dry, motor_temperature: 95 }) };
    const batch = readings([hot], 10, at(3600));
    run(state, { kind: "readings", batch: readings([hourClean]) }, service("begin", 3595));
    run(state, { kind: "readings", batch }, service("end", 4495));
    const { alarms } = viewUnit(state, { display: "si", timezone: "UTC" }, log, null, endOf(batch) + 5000);
    expect(alarms.map(({ alarm, state: word, by }) => [alarm, word, by])).toEqual([
      ["lost-prime", "active-unacknowledged", null],
      ["overheating", "suppressed", "lost-prime"],
    ]);
  });
});

describe("the rules that cannot judge a unit say why", () => {
  const quiet = (yaml: string, stretches: readonly Stretch[]) =>
    Object.fromEntries(viewed(yaml, stretches).quiet.map(({ alarm, why }) => [alarm, why]));

  it("for a channel that the log lacks", () => {
    const noGauge: Stretch = { seconds: 3600, values: (s) => ({ motor_current: clean(s).motor_current }) };
    expect(quiet(plain, [noGauge])).toMatchObject({
      "lost-prime": "no discharge pressure or suction pressure in the log",
      overheating: "no motor temperature in the log",
      "ozone-off": "no ozone in the log",
      "ozone-while-stopped": "no ozone in the log",
    });
  });

  it("for a baseline that is still to come", () => {
    expect(quiet(plain, [{ seconds: 600, values: clean }])["lost-prime"]).toBe(
      "no half hour of steady running seen yet",
    );
    const named = "{ id: LM-01, baseline: { from: 2027-01-01T00:00:00Z } }";
    expect(quiet(named, [hourClean])["lost-prime"]).toBe("no running in its baseline window yet");
    expect(quiet(plain, [hourClean])["lost-prime"]).toBeUndefined();
  });

  it("for ozone that is bypassed or not there", () => {
    expect(quiet("{ id: LM-01, ozone: bypassed }", quietDay)["ozone-off"]).toBe("ozone is bypassed here");
  });

  it("for a unit of which nobody says when it should run", () => {
    expect(quiet(plain, quietDay)["not-running"]).toBe(
      "neither `runs` in the fleet file nor a run command in the log",
    );
    expect(quiet("{ id: LM-01, runs: always }", quietDay)["not-running"]).toBeUndefined();
    const commanded: Stretch = { seconds: 60, values: (s) => ({ ...clean(s), run_command: 1 }) };
    expect(quiet(plain, [commanded])["not-running"]).toBeUndefined();
  });
});

describe("what a unit lacks, so that an alarm cannot be judged, is told apart from what it is not meant to have", () => {
  const withoutGauge: Stretch = {
    seconds: 3600,
    values: (s) => ({ ...clean(s), motor_temperature: undefined, gas_pressure: undefined }),
  };
  const lacking = (yaml: string, ...stretches: readonly Stretch[]) =>
    viewed(yaml, stretches).quiet.flatMap(({ alarm, lacks }) => (lacks ? [[alarm, ...lacks]] : []));
  const runs = "id: LM-01, runs: always";

  it("for each alarm, by what its rule needs of the gauges that a skid is expected to have", () => {
    expect(lacking(`{ ${runs} }`, withoutGauge)).toEqual([
      ["overheating", "motor temperature"],
      ["gas-pressure-drift", "gas pressure"],
      ["gas-supply-low", "gas pressure"],
      ["gas-backflow-risk", "gas pressure"],
      ["freeze-risk", "motor temperature"],
    ]);
  });

  it("not for a gauge that the fleet file says it has not, nor for a cell that is not there", () => {
    expect(lacking(`{ ${runs}, not_measured: [motor_temperature, gas_pressure] }`, withoutGauge)).toEqual([]);
    const noCell: Stretch = { seconds: 3600, values: (s) => ({ ...clean(s), ozone: undefined }) };
    expect(lacking(`{ ${runs} }`, noCell).map(([alarm]) => alarm)).toContain("ozone-while-stopped");
    expect(lacking(`{ ${runs}, ozone: none }`, noCell)).toEqual([]);
  });

  it("for a setting and a baseline that are still to come", () => {
    expect(lacking("{ id: LM-01 }", hourClean)).toEqual([["not-running", "`runs`"]]);
    expect(lacking(`{ ${runs} }`, { seconds: 600, values: clean })).toContainEqual([
      "lost-prime",
      "baseline",
    ]);
  });

  it("for a high alarm that its clean running has blinded: pressures too small to collapse", () => {
    const tiny: Stretch = {
      seconds: 3600,
      values: (s) => ({ ...clean(s), discharge_pressure: 0.86, suction_pressure: -0.24 }),
    };
    const window = "baseline: { from: 2026-05-04T00:00:00Z, for: 1 h }";
    expect(lacking(`{ ${runs}, ${window} }`, tiny, { ...tiny, seconds: 60 })).toContainEqual([
      "lost-prime",
      "usable clean pressures",
    ]);
  });
});

it("an alarm that a service suppresses keeps the time at which it was raised", () => {
  const raised = viewed(plain, primeLost).alarms[0];
  const record = { unit: "LM-01", work: "repair", step: "begin", atMs: endOf(readings(primeLost)) } as const;
  const suppressed = viewed(plain, primeLost, [{ kind: "service", record }]).alarms[0];
  expect(raised).toMatchObject({ alarm: "lost-prime", raisedMs: at(3630), state: "active-unacknowledged" });
  expect(suppressed).toMatchObject({ alarm: "lost-prime", raisedMs: at(3630), state: "suppressed" });
});
