import { describe, expect, it } from "vitest";
import { decodeUnit, encodeUnit } from "../../src/collector/checkpoint.ts";
import { dry, stopped } from "../support/fleets.ts";
import { but, clean, hourClean, readings, run, type Stretch, start, unitOf } from "../support/unit-days.ts";

const unit = unitOf("{ id: LM-01, runs: always, motor: { full_load_current: 9.8 A } }");
const stages: readonly [string, readonly Stretch[]][] = [
  ["before its first reading", []],
  [
    "while it learns, with values missing",
    [{ seconds: 600, values: (s) => ({ ...clean(s), ozone: s % 20 ? 1 : undefined }) }],
  ],
  ["in the middle of a delay", [hourClean, { seconds: 20, values: but(dry) }]],
  [
    "with alarms raised and suppressed",
    [hourClean, { seconds: 900, values: but({ ...dry, motor_temperature: 95 }) }],
  ],
  ["stopped, its ozone on", [hourClean, { seconds: 300, values: { ...stopped, ozone: 1 } }]],
];

describe("a unit's checkpoint", () => {
  it.each(stages)("is the same text after it was taken up: %s", (_name, stretches) => {
    const state = start(unit);
    run(state, { kind: "readings", batch: readings(stretches) });
    const text = encodeUnit(state);
    const { state: again, anew } = decodeUnit(unit, { timezone: "UTC" }, text);
    expect(anew).toEqual([]);
    expect(again.condition).toEqual(state.condition);
    expect(again.lives).toEqual(state.lives);
    expect(again.rules.map(({ memory, delay }) => ({ memory, delay }))).toEqual(
      state.rules.map(({ memory, delay }) => ({ memory, delay })),
    );
    expect(encodeUnit(again)).toBe(text);
  });

  it("is taken with a service under way and a silence told", () => {
    const state = start(unit);
    run(
      state,
      { kind: "readings", batch: readings([hourClean]) },
      { kind: "service", record: { unit: "LM-01", work: "repair", step: "begin", atMs: 0 } },
      { kind: "clock", timeMs: Number.MAX_SAFE_INTEGER },
    );
    const text = encodeUnit(state);
    const { state: again } = decodeUnit(unit, { timezone: "UTC" }, text);
    expect(again.openServices.map(({ work }) => work)).toEqual(["repair"]);
    expect(encodeUnit(again)).toBe(text);
  });

  it("learns anew under another nameplate, and keeps what does not rest on it", () => {
    const state = start(unit);
    run(state, { kind: "readings", batch: readings([hourClean]) });
    const other = unitOf("{ id: LM-01, runs: always, motor: { full_load_current: 12 A } }");
    const { state: again, anew } = decodeUnit(other, { timezone: "UTC" }, encodeUnit(state));
    expect(anew).toEqual(["condition"]);
    expect(again.condition.baseline).toBeNull();
  });

  it("goes on where the fleet file comes to tell the cleaner and the parts, which no alarm rests on", () => {
    const state = start(unit);
    run(state, { kind: "readings", batch: readings([hourClean]) });
    const told = { ...unit, service: { ...unit.service, cleaner: { doseMl: 40 }, parts: ["gasket"] } };
    expect(decodeUnit(told, { timezone: "UTC" }, encodeUnit(state)).anew).toEqual([]);
    const other = { ...unit, service: { ...unit.service, cleaningEveryMs: 1 } };
    expect(decodeUnit(other, { timezone: "UTC" }, encodeUnit(state)).anew).toEqual(["overdue"]);
  });
});
