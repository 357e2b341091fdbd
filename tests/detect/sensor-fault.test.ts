import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { encodeUnit } from "../../src/collector/checkpoint.ts";
import type { Channel } from "../../src/terms/channels.ts";
import { stopped } from "../support/fleets.ts";
import { cutAt, cuts } from "../support/random-logs.ts";
import {
  but,
  clean,
  hourClean,
  readings,
  run,
  type Stretch,
  start,
  told,
  unitOf,
  type Values,
  wobble,
} from "../support/unit-days.ts";

const unit = unitOf("{ id: LM-01, runs: always, motor: { full_load_current: 9.8 A } }");
const channels = [
  "motor_current",
  "motor_temperature",
  "suction_pressure",
  "discharge_pressure",
  "gas_pressure",
] as const;

const hourThen = (stretch: Stretch, ...more: readonly Stretch[]) =>
  run(start(unit), { kind: "readings", batch: readings([hourClean, stretch, ...more]) });

const frozen = (channel: Channel): Stretch["values"] => but({ [channel]: clean(0)[channel] });

/** A loose contact: three readings in ten are thrown about by up to `far`. */
const jumping =
  (channel: Channel, far: number) =>
  (second: number): Values => {
    const values = clean(second);
    const thrown = wobble(second + 7, "power") > 0.4;
    return thrown
      ? { ...values, [channel]: (values[channel] ?? 0) + far * wobble(second, "vibration") }
      : values;
  };

describe("a channel out of its physical range", () => {
  it.each<[Channel, number]>([
    ["motor_current", -5],
    ["motor_current", 130],
    ["motor_temperature", 850],
    ["motor_temperature", -50],
    ["suction_pressure", -180],
    ["discharge_pressure", -150],
    ["gas_pressure", -150],
    ["gas_pressure", 4000],
  ])("%s at %d is a sensor's fault after 40 s, and nothing else is raised by it", (channel, value) => {
    const findings = hourThen({ seconds: 7200, values: but({ [channel]: value }) });
    expect(findings.map(({ alarm }) => alarm)).toEqual(["sensor-fault"]);
    expect(new Date(findings[0].timeMs).toISOString()).toBe("2026-05-04T01:00:40.000Z");
    expect(findings[0].evidence[channel]).toMatchObject({ value });
    expect(findings[0].message.toLowerCase()).toContain(channel.replaceAll("_", " "));
  });

  it("is medium where a high alarm has lost its channel, and says which can no longer be judged", () => {
    const [current] = hourThen({ seconds: 600, values: but({ motor_current: -5 }) });
    expect(current.priority).toBe("medium");
    expect(current.message).toMatch(
      /^Motor current read -5 A, .*no longer be judged: .*lost-prime.*not-running/,
    );
    const [air] = hourThen({ seconds: 600, values: but({ ambient_temperature: 300 }) });
    expect(air.message).not.toContain("lost-prime");
  });

  it("takes a perfect vacuum for the end of any gauge: at 2 000 m that is 79.5 kPa, and weather", () => {
    const high = unitOf("{ id: LM-01, elevation: 2000 m }");
    const at = (kPa: number) => told(high, [hourClean, { seconds: 120, values: but({ gas_pressure: kPa }) }]);
    expect(at(-84)).toContain("01:00:40 raised sensor-fault");
    expect(at(-80)).not.toContain("01:00:40 raised sensor-fault");
  });

  it("is not raised by single readings", () => {
    const spike = (s: number) => (s % 600 === 0 ? { ...clean(s), motor_temperature: 850 } : clean(s));
    expect(hourThen({ seconds: 7200, values: spike })).toEqual([]);
  });

  it("clears when the channel has been good for five minutes", () => {
    const findings = hourThen(
      { seconds: 600, values: but({ gas_pressure: -150 }) },
      { seconds: 600, values: clean },
    );
    expect(findings.map(({ event }) => event)).toEqual(["raised", "cleared"]);
  });

  it("is one alarm where several channels fail together, and names each", () => {
    const findings = hourThen({ seconds: 600, values: but({ gas_pressure: -150, motor_temperature: 850 }) });
    expect(findings).toHaveLength(1);
    expect(findings[0].evidence).toMatchObject({
      gas_pressure: { value: -150 },
      motor_temperature: { value: 850 },
    });
  });

  it.each([
    [Number.NEGATIVE_INFINITY, /loop of gas pressure was at 3\.6 mA or below/],
    [Number.POSITIVE_INFINITY, /loop of gas pressure was at 21 mA or above/],
  ])("is told of a 4–20 mA loop that signals its failure", (gas_pressure, words) => {
    const [finding] = hourThen({ seconds: 600, values: but({ gas_pressure }) });
    expect(finding).toMatchObject({ alarm: "sensor-fault", evidence: {} });
    expect(finding.message).toMatch(words);
  });
});

describe("a frozen channel", () => {
  it.each(channels)("%s is found out after 30 min of running while others move", (channel) => {
    const findings = hourThen({ seconds: 7200, values: frozen(channel) });
    expect(findings.map(({ alarm }) => alarm)).toEqual(["sensor-fault"]);
    const heldMin = (findings[0].timeMs - Date.parse("2026-05-04T01:00:00Z")) / 60_000;
    expect(heldMin).toBeGreaterThanOrEqual(30);
    expect(heldMin).toBeLessThan(32);
    expect(findings[0].message).toContain("froze at");
  });

  it("takes its time from the fleet file", () => {
    const quick = unitOf("{ id: LM-01, limits: { sensor-fault: { frozen_after: 10 min } } }");
    const [first] = told(quick, [hourClean, { seconds: 3600, values: frozen("gas_pressure") }]);
    expect(first).toBe("01:10:40 raised sensor-fault");
  });

  it("is trusted again when it moves", () => {
    const findings = hourThen(
      { seconds: 3600, values: frozen("gas_pressure") },
      { seconds: 900, values: clean },
    );
    expect(findings.map(({ event }) => event)).toEqual(["raised", "cleared"]);
  });

  it.each<[string, Stretch["values"]]>([
    ["a gas gauge at nought, as where the gas has failed", but({ gas_pressure: 0 })],
    ["a pump that stands still, its gauges at rest", stopped],
  ])("is not taken for %s", (_name, values) => {
    expect(told(unit, [hourClean, { seconds: 10_800, values }]).join()).not.toContain("sensor-fault");
  });

  it("is not taken for a thermometer of whole degrees in steady running", () => {
    const coarse = (s: number) => ({
      ...clean(s),
      motor_temperature: 40 + Math.min(18, Math.floor(s / 200)),
    });
    expect(told(unit, [{ seconds: 36_000, values: coarse }])).toEqual([]);
  });

  it("is not taken for a logger that repeats everything: that is not one instrument", () => {
    expect(hourThen({ seconds: 7200, values: clean(0) })).toEqual([]);
  });
});

describe("a second channel that is lost", () => {
  const both = [
    hourClean,
    { seconds: 600, values: but({ gas_pressure: -150 }) },
    { seconds: 600, values: but({ gas_pressure: -150, motor_temperature: 850 }) },
  ];

  it("is said anew, without an event", () => {
    const high = unitOf("{ id: LM-01, limits: { sensor-fault: { priority: high } } }");
    const state = start(high);
    const findings = run(state, { kind: "readings", batch: readings(both) });
    expect(findings.map(({ event }) => event)).toEqual(["raised"]);
    const { message } = state.lives.find(({ alarm }) => alarm === "sensor-fault") ?? {};
    expect(message).toMatch(/^Motor temperature read 850 °C.*; gas pressure read -150 kPa/);
  });
});

describe("an alarm that needs one of several channels", () => {
  it("is blind where those are lost that the log has", () => {
    const state = start(unitOf("{ id: LM-01, ozone: none }"));
    run(state, {
      kind: "readings",
      batch: readings([hourClean, { seconds: 600, values: but({ gas_pressure: -150 }) }]),
    });
    const { message } = state.lives.find(({ alarm }) => alarm === "sensor-fault") ?? {};
    expect(message).toContain("gas-pressure-drift");
  });

  it("is not while another of them is left", () => {
    const state = start(unitOf("{ id: LM-01, ozone: none }"));
    const flow = (s: number): Values => ({ ...clean(s), gas_flow: 6 + 0.05 * wobble(s, "gas_flow") });
    run(state, {
      kind: "readings",
      batch: readings([
        { seconds: 3600, values: flow },
        { seconds: 600, values: (s) => ({ ...flow(s), gas_pressure: -150 }) },
      ]),
    });
    const { message } = state.lives.find(({ alarm }) => alarm === "sensor-fault") ?? {};
    expect(message).toMatch(/^Gas pressure/);
    expect(message).not.toContain("gas-pressure-drift");
  });
});

describe("gauges that contradict each other", () => {
  it("a motor that draws nothing while two gauges show the pump running has a dead current sensor", () => {
    const findings = hourThen({ seconds: 3600, values: but({ motor_current: 0 }) });
    expect(findings.map(({ alarm }) => alarm)).toEqual(["sensor-fault"]);
    expect(findings[0].message).toContain("two other gauges show the pump running");
  });

  it("a motor that draws nothing while the pressure has gone stands still, also where a check valve holds the vacuum", () => {
    const held = { ...stopped, suction_pressure: -23 };
    const [first] = told(unit, [hourClean, { seconds: 3600, values: held }]);
    expect(first).toBe("01:00:30 raised not-running");
  });

  it("a discharge gauge that froze bears no witness for a motor that has stopped", () => {
    const froze = clean(0).discharge_pressure;
    const lines = told(unit, [
      hourClean,
      { seconds: 300, values: frozen("discharge_pressure") },
      { seconds: 600, values: { ...stopped, suction_pressure: -23, discharge_pressure: froze } },
    ]);
    expect(lines).toEqual(["01:05:30 raised not-running"]);
  });

  it("a motor at rest is believed while its gauges read as they do at rest: a flooded suction bears no witness", () => {
    const flooded: Stretch = {
      seconds: 3600,
      values: (s) => ({
        ...clean(s),
        suction_pressure: 12 + 0.3 * wobble(s, "flow"),
        discharge_pressure: 20 + 0.2 * wobble(s, "power"),
        gas_pressure: 26 + 0.2 * wobble(s, "gas_flow"),
      }),
    };
    const stands: Stretch = {
      seconds: 600,
      values: (s) => ({
        ...stopped,
        suction_pressure: 14 + 0.1 * wobble(s, "flow"),
        discharge_pressure: 15 + 0.1 * wobble(s, "power"),
        gas_pressure: 15,
        ozone: 1,
      }),
    };
    expect(told(unit, [flooded, stands])).toEqual([
      "01:00:30 raised not-running",
      "01:01:00 raised ozone-while-stopped",
    ]);
  });

  it("a compressor that goes on beside a check valve that holds the discharge bears no witness either", () => {
    const lines = told(unit, [
      hourClean,
      {
        seconds: 600,
        values: (s) => ({
          ...stopped,
          discharge_pressure: 70 + 0.2 * wobble(s, "power"),
          gas_pressure: 22 + 0.2 * wobble(s, "gas_flow"),
        }),
      },
    ]);
    expect(lines[0]).toBe("01:00:30 raised not-running");
  });

  it.each<[string, Values, Values, string]>([
    ["power that has gone", { power: 850 }, { power: 2 }, "not-running"],
    ["no supply", { voltage: 116 }, { voltage: 3 }, "not-running"],
    ["power as in running", { power: 850 }, { power: 851 }, "sensor-fault"],
    ["a supply that is there", { voltage: 116 }, { voltage: 117 }, "sensor-fault"],
  ])("%s decides before the vacuum does", (_what, before, now, alarm) => {
    const lines = told(unit, [
      { seconds: 3600, values: but(before) },
      { seconds: 600, values: but({ motor_current: 0, ...now }) },
    ]);
    expect(lines[0]).toMatch(new RegExp(` raised ${alarm}$`));
  });

  it("a motor that is not commanded to run is believed to stand, though vacuum and pressure are held", () => {
    const held = but({ motor_current: 0, run_command: 0 });
    expect(
      told(unit, [
        { seconds: 3600, values: but({ run_command: 1 }) },
        { seconds: 600, values: held },
      ]),
    ).toEqual(["01:01:00 raised ozone-while-stopped"]);
  });

  it("a motor that draws as when loaded to the last digit, without pressure or vacuum, has a frozen sensor", () => {
    const loaded = { ...stopped, motor_current: clean(0).motor_current };
    const lines = told(unitOf("{ id: LM-01, ozone: none }"), [
      hourClean,
      { seconds: 300, values: frozen("motor_current") },
      { seconds: 3600, values: loaded },
    ]);
    expect(lines).toEqual(["01:05:40 raised sensor-fault"]);
  });
});

describe("a jumping channel", () => {
  it.each<[Channel, number]>([
    ["motor_current", 12],
    ["motor_temperature", 60],
    ["suction_pressure", 60],
    ["discharge_pressure", 150],
    ["gas_pressure", 150],
  ])(
    "%s, thrown about by up to %d, is a sensor's fault within five minutes and nothing else",
    (channel, far) => {
      const findings = hourThen({ seconds: 7200, values: jumping(channel, far) });
      expect(findings.map(({ alarm }) => alarm)).toEqual(["sensor-fault"]);
      expect(findings[0].timeMs).toBeLessThan(Date.parse("2026-05-04T01:05:00Z"));
    },
  );

  it.each<[string, Stretch["values"]]>([
    [
      "water boiling in the eye, where all gauges leap together",
      (s) => ({
        ...clean(s),
        motor_current: 8.9 + 0.9 * wobble(s, "motor_current"),
        suction_pressure: -60 + 12 * wobble(s, "suction_pressure"),
        discharge_pressure: 55 + 45 * wobble(s, "discharge_pressure"),
        gas_pressure: 40 + 20 * wobble(s, "gas_pressure"),
      }),
    ],
    ["a feed of gas that is weak from one reading to the next", but({ gas_pressure: 12 })],
    ["a pump that its relay starts and stops", (s) => (s % 120 < 60 ? clean(s) : stopped)],
  ])("is not taken for %s", (_name, values) => {
    expect(told(unit, [hourClean, { seconds: 1500, values }]).join()).not.toContain("sensor-fault");
  });
});

describe("whatever an instrument does", () => {
  const doings: readonly Stretch["values"][] = [
    clean,
    stopped,
    but({ motor_current: 0 }),
    but({ discharge_pressure: -150 }),
    but({ gas_pressure: Number.NEGATIVE_INFINITY }),
    ...channels.map(frozen),
    ...channels.map((channel) => jumping(channel, 80)),
  ];
  const log = fc
    .array(fc.record({ doing: fc.nat(doings.length - 1), minutes: fc.integer({ min: 1, max: 50 }) }), {
      minLength: 1,
      maxLength: 6,
    })
    .map((spells) =>
      readings(
        [
          hourClean,
          ...spells.map(({ doing, minutes }) => ({ seconds: minutes * 60, values: doings[doing] })),
        ],
        20,
      ),
    );

  it("is told the same, and stands the same, however its readings are split", () => {
    fc.assert(
      fc.property(log, cuts, (batch, places) => {
        const through = (parts: readonly (typeof batch)[]) => {
          const state = start(unit);
          const findings = run(state, ...parts.map((part) => ({ kind: "readings", batch: part }) as const));
          return { findings, state: encodeUnit(state) };
        };
        expect(through(cutAt(batch, places))).toEqual(through([batch]));
      }),
      { numRuns: 60 },
    );
  });
});
