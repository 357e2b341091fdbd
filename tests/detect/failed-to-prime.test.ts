import { describe, expect, it } from "vitest";
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
} from "../support/unit-days.ts";

const unit = unitOf();
const stopped: Values = {
  motor_current: 0,
  motor_temperature: 50,
  suction_pressure: 0,
  discharge_pressure: 0,
  gas_pressure: 0,
  ozone: 0,
};
const stop: Stretch = { seconds: 600, values: stopped };
const priming: Values = { motor_current: 7.6, discharge_pressure: 0.5, suction_pressure: -8, ozone: 0 };

describe("failed to prime", () => {
  it("is raised when a start has no pressure after the allowed five minutes", () => {
    const stretches: Stretch[] = [hourClean, stop, { seconds: 900, values: but(priming) }];
    const [finding] = run(start(unit), { kind: "readings", batch: readings(stretches) });
    expect(finding).toMatchObject({ alarm: "failed-to-prime", event: "raised", priority: "high" });
    expect(new Date(finding.timeMs).toISOString()).toBe("2026-05-04T01:15:10.000Z");
    expect(finding.message).toMatch(
      /^The pump had not primed 5 min 10 s after its start: discharge pressure was 0\.5 kPa/,
    );
  });

  it("is not raised by a start that takes four minutes", () => {
    const stretches: Stretch[] = [
      hourClean,
      stop,
      { seconds: 240, values: but(priming) },
      { seconds: 900, values: clean },
    ];
    expect(told(unit, stretches)).toEqual([]);
  });

  it("clears when the pump primes at last, or stops", () => {
    const failed: Stretch[] = [hourClean, stop, { seconds: 600, values: but(priming) }];
    expect(told(unit, [...failed, { seconds: 300, values: clean }])).toEqual([
      "01:15:10 raised failed-to-prime",
      "01:20:40 cleared failed-to-prime",
    ]);
    expect(told(unit, [...failed, stop])).toEqual([
      "01:15:10 raised failed-to-prime",
      "01:20:30 cleared failed-to-prime",
    ]);
  });
});

describe("a start against a shut suction", () => {
  const startsAt = (suction_pressure: number, motor_current = 7.6): Stretch[] => [
    hourClean,
    stop,
    { seconds: 900, values: but({ ...priming, motor_current, suction_pressure }) },
  ];

  it("is a restriction by its deep vacuum, high since no water moves, and brings the failed prime with it", () => {
    expect(told(unit, startsAt(-90))).toEqual([
      "01:13:00 raised suction-restricted",
      "01:15:10 suppressed failed-to-prime by suction-restricted",
    ]);
    const [finding] = run(start(unit), { kind: "readings", batch: readings(startsAt(-90)) });
    expect(finding.priority).toBe("high");
    expect(finding.message).toMatch(/the vacuum grew deeper from -24(\.\d)? kPa to -90 kPa/);
  });

  it("is a failed prime where the vacuum is none, or that of a pond that has fallen by well over a metre", () => {
    for (const suction of [0, -8, -24, -41]) {
      expect(told(unit, startsAt(suction))).toEqual(["01:15:10 raised failed-to-prime"]);
    }
  });

  it("stays one while its vacuum is less deep but still far deeper than clean, and is none once it is not", () => {
    const eases = (suction: number): Stretch => ({
      seconds: 900,
      values: startsAt(suction).at(-1)?.values ?? clean,
    });
    const restricted = (suction: number) =>
      told(unit, [...startsAt(-90), eases(suction)]).filter((line) =>
        /(raised|cleared) suction-restricted/.test(line),
      );
    expect(restricted(-47)).toEqual(["01:13:00 raised suction-restricted"]);
    expect(restricted(-38)).toEqual([
      "01:13:00 raised suction-restricted",
      expect.stringContaining("cleared"),
    ]);
  });

  it("is over when the pump primes at last", () => {
    expect(told(unit, [...startsAt(-90), { seconds: 600, values: clean }])).toEqual([
      "01:13:00 raised suction-restricted",
      "01:15:10 suppressed failed-to-prime by suction-restricted",
      "01:25:40 cleared failed-to-prime",
      "01:28:00 cleared suction-restricted",
    ]);
  });
});

describe("ozone without water", () => {
  it("is raised 60 s after prime was lost with the ozone on", () => {
    const dry = but({ motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5 });
    expect(told(unit, [hourClean, { seconds: 300, values: dry }])).toEqual([
      "01:00:30 raised lost-prime",
      "01:01:00 raised ozone-without-water",
    ]);
  });

  it("is raised when a start has not primed in the allowed time and the ozone is on", () => {
    const stretches: Stretch[] = [hourClean, stop, { seconds: 900, values: but({ ...priming, ozone: 1 }) }];
    expect(told(unit, stretches)).toEqual([
      "01:15:10 raised failed-to-prime",
      "01:15:10 raised ozone-without-water",
    ]);
  });

  it("is not raised while a start may still prime, nor by a dead gauge on a loaded motor", () => {
    const stretches: Stretch[] = [
      hourClean,
      stop,
      { seconds: 240, values: but({ ...priming, ozone: 1 }) },
      { seconds: 600, values: clean },
      { seconds: 600, values: but({ discharge_pressure: 0 }) },
    ];
    // The motor is loaded and the vacuum stands: the gauge is told of instead.
    expect(told(unit, stretches)).toEqual(["01:26:20 raised sensor-fault"]);
  });
});
