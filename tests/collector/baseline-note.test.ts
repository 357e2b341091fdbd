import { describe, expect, it } from "vitest";
import { baselineWords } from "../../src/collector/baseline-note.ts";
import type { Input } from "../../src/engine.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import { dry, stopped } from "../support/fleets.ts";
import {
  but,
  hourClean,
  midnight,
  readings,
  run,
  type Stretch,
  start,
  unitOf,
} from "../support/unit-days.ts";

const recorded = (work: ServiceRecord["work"], step: ServiceRecord["step"], afterMs = 3_600_000): Input => ({
  kind: "service",
  record: { unit: "LM-01", work, step, atMs: midnight + afterMs },
});

function words(keys: string, stretches: readonly Stretch[], ...inputs: readonly Input[]) {
  const state = start(unitOf(`{ id: LM-01, ozone: none${keys} }`));
  run(state, { kind: "readings", batch: readings(stretches) }, ...inputs);
  return baselineWords(state, { display: "si", timezone: "America/Chicago" });
}

describe("what a view says of a baseline", () => {
  it("nobody has confirmed it: when it was learned, and how to confirm it", () => {
    expect(words("", [hourClean])).toEqual({
      baseline: "provisional",
      baselineNote:
        "Nobody has said that the unit ran clean from 2026-05-03 19:10 to 2026-05-03 19:40, when it was learned. " +
        "If it did: tarnwatch service baseline FLEET LM-01 confirm",
      baselineAsks: false,
    });
  });

  it("nothing more where the fleet file, the commissioning record or a person confirms it", () => {
    const confirmed = { baseline: "confirmed", baselineNote: null, baselineAsks: false };
    expect(words(", baseline: { from: 2026-05-04T00:00:00Z, for: 30 min }", [hourClean])).toEqual(confirmed);
    expect(words(", commissioning: { motor_current: 9.1 A }", [hourClean])).toEqual(confirmed);
    expect(words("", [hourClean], recorded("baseline", "confirm"))).toEqual(confirmed);
  });

  it("it differs from the commissioning record: by which channel and how much", () => {
    const record =
      ", commissioning: { on: 2026-05-01, motor_current: 9.1 A, discharge_pressure: 104 kPa, flow: 110 }";
    expect(words(record, [{ seconds: 3600, values: but({ discharge_pressure: 86 }) }])).toEqual({
      baseline: "provisional",
      baselineNote:
        "It differs from the commissioning record of 2026-05-01: " +
        "discharge pressure 86 kPa against 104 kPa (-17 %); flow cannot be compared, the log lacks it.",
      baselineAsks: true,
    });
  });

  it("it may no longer hold since a repair, also where it is confirmed", () => {
    const { baseline, baselineNote, baselineAsks } = words(
      ", commissioning: { motor_current: 9.1 A }",
      [hourClean],
      recorded("repair", "done"),
    );
    expect({ baseline, baselineAsks }).toEqual({ baseline: "confirmed", baselineAsks: true });
    expect(baselineNote).toBe(
      "Since the repair of 2026-05-03 it may no longer hold. " +
        "If the unit runs otherwise now: tarnwatch service baseline FLEET LM-01 relearn; " +
        "if not: tarnwatch service baseline FLEET LM-01 confirm",
    );
  });

  it("another is being learned", () => {
    const { baseline, baselineNote } = words(
      "",
      [hourClean],
      recorded("baseline", "confirm"),
      recorded("baseline", "relearn"),
    );
    expect(baseline).toBe("confirmed");
    expect(baselineNote).toBe(
      "It is being learned anew since 2026-05-03 20:00; until that is complete this one stays in use.",
    );
  });
});

describe("a unit without a baseline says why", () => {
  it.each([
    [
      "it never ran",
      "",
      { seconds: 7200, values: { ...stopped, ozone: 0 } },
      "No half hour of steady running seen yet.",
    ],
    [
      "its log begins within a fault that leaves it dry",
      "",
      { seconds: 7200, values: but(dry) },
      "Discharge pressure is under 10 kPa, which is not taken for clean running; " +
        "if it is, give the time as `baseline` in the fleet file.",
    ],
    [
      "it did not run in its window",
      ", baseline: { from: 2026-05-04T00:00:00Z, for: 1 h }",
      { seconds: 7200, values: { ...stopped, ozone: 0 } },
      "No running in its baseline window, which is over: write another as `baseline` in the fleet file.",
    ],
  ])("%s", (_, keys, stretch, baselineNote) => {
    expect(words(keys, [stretch])).toEqual({ baseline: null, baselineNote, baselineAsks: false });
  });

  it("a log that begins half clogged gives a provisional baseline; only the commissioning record can tell", () => {
    const clogged: Stretch = {
      seconds: 3600,
      values: but({ suction_pressure: -45, discharge_pressure: 60, motor_current: 8.2 }),
    };
    expect(words("", [clogged]).baseline).toBe("provisional");
    const { baseline, baselineNote } = words(
      ", commissioning: { discharge_pressure: 86 kPa, suction_pressure: -24 kPa }",
      [clogged],
    );
    expect(baseline).toBe("provisional");
    expect(baselineNote).toContain("suction pressure -45 kPa against -24 kPa (+88 %)");
    expect(baselineNote).toContain("discharge pressure 60 kPa against 86 kPa (-30 %)");
  });
});
