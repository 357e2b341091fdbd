import { describe, expect, it } from "vitest";
import type { Input, UnitState } from "../../src/engine.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import { iso } from "../../src/terms/time.ts";
import { centre } from "../support/conditioned.ts";
import { stopped } from "../support/fleets.ts";
import {
  but,
  hourClean,
  lines,
  midnight,
  readings,
  run,
  type Stretch,
  start,
  unitOf,
} from "../support/unit-days.ts";

const hour = 3600;
const unit = unitOf("{ id: LM-01, ozone: none }");

/** Clean running from an hour of the day on. */
const from = (atHour: number, ...stretches: readonly Stretch[]): Input => ({
  kind: "readings",
  batch: readings(stretches, 10, midnight + atHour * hour * 1000),
});
const recorded = (
  work: ServiceRecord["work"],
  step: ServiceRecord["step"],
  atHour: number,
  untilHour?: number,
): Input => ({
  kind: "service",
  record: {
    unit: "LM-01",
    work,
    step,
    atMs: midnight + atHour * hour * 1000,
    ...(untilHour !== undefined && { untilMs: midnight + untilHour * hour * 1000 }),
  },
});
const halved: Stretch = {
  seconds: hour,
  values: but({ discharge_pressure: 35, motor_current: 8.6, gas_pressure: 20 }),
};
const unitAfter = (...inputs: readonly Input[]): UnitState => {
  const state = start(unit);
  run(state, ...inputs);
  return state;
};
const discharge = ({ condition }: UnitState) => centre(condition.baseline, "discharge_pressure");

describe("a baseline, once learned", () => {
  it("stays as it is whatever the unit does later", () => {
    const state = unitAfter(from(0, hourClean, halved, halved));
    expect(discharge(state)).toBeCloseTo(86, 0);
    expect(state.condition.firstBaseline).toEqual(state.condition.baseline);
  });

  it.each(["inspection", "cleaning"] as const)(
    "is not learned anew by an %s, nor is that offered",
    (work) => {
      const state = unitAfter(
        from(0, hourClean),
        recorded(work, "begin", 1),
        recorded(work, "end", 1.1),
        from(1.1, halved),
      );
      expect(discharge(state)).toBeCloseTo(86, 0);
      expect(state.condition.reconsider).toBeNull();
    },
  );

  it("is confirmed by a record, with nothing else about it changed", () => {
    const plain = unitAfter(from(0, hourClean)).condition.baseline;
    const { condition } = unitAfter(from(0, hourClean), recorded("baseline", "confirm", 1));
    expect(condition.baseline).toEqual({ ...plain, confirmed: true });
  });

  it("may be confirmed while a motor starts too often: that is still told", () => {
    const cycling: Stretch = {
      seconds: 2 * hour,
      values: (s) => (s % 400 < 200 ? but({})(s) : { ...stopped, ozone: 0 }),
    };
    const told = (...between: readonly Input[]) => {
      const state = start(unit);
      run(state, from(0, hourClean, { ...cycling, seconds: 1500 }));
      run(state, ...between);
      return lines(run(state, from(1 + 1500 / hour, cycling)));
    };
    expect(told()).toContainEqual(expect.stringContaining("short-cycling"));
    expect(told(recorded("baseline", "confirm", 1.4))).toEqual(told());
  });

  it("cannot be confirmed before it is complete", () => {
    const { condition } = unitAfter(
      from(0, { ...hourClean, seconds: 600 }),
      recorded("baseline", "confirm", 0.2),
    );
    expect(condition.baseline).toBeNull();
    expect(condition.learning).not.toBeNull();
  });
});

describe("a unit that is learned anew", () => {
  it("goes by its old baseline until the new one is complete; the first is kept for good", () => {
    const soon = unitAfter(
      from(0, hourClean),
      recorded("baseline", "relearn", 1),
      from(1, { ...halved, seconds: 1200 }),
    );
    expect(discharge(soon)).toBeCloseTo(86, 0);
    const state = unitAfter(from(0, hourClean), recorded("baseline", "relearn", 1), from(1, halved));
    expect(discharge(state)).toBe(35);
    expect(state.condition.baseline?.confirmed).toBe(false);
    expect(centre(state.condition.firstBaseline, "discharge_pressure")).toBeCloseTo(86, 0);
    run(state, recorded("baseline", "relearn", 2), from(2, hourClean));
    expect(discharge(state)).toBeCloseTo(86, 0);
    expect(state.condition.firstBaseline?.fromMs).toBeLessThan(midnight + hour * 1000);
  });

  it("learns a line that works at a third of its old pressure, at which the old one never was primed", () => {
    const low: Stretch = { seconds: hour, values: but({ discharge_pressure: 28, motor_current: 8 }) };
    const rest: Stretch = { seconds: 600, values: { ...stopped, ozone: 0 } };
    const state = unitAfter(from(0, hourClean, rest), recorded("baseline", "relearn", 1.5), from(1.5, low));
    expect(discharge(state)).toBe(28);
  });

  it("learns from plain running as well, and ends with later readings", () => {
    const state = unitAfter(from(0, hourClean), from(1, hourClean));
    run(state, recorded("baseline", "relearn", 2), from(2, hourClean));
    expect(state.condition.learning).toBeNull();
    expect(state.condition.baseline?.fromMs).toBe(midnight + 2 * hour * 1000);
  });

  it("takes nothing from before the record", () => {
    const state = unitAfter(
      from(0, { ...hourClean, seconds: 2000 }),
      recorded("baseline", "relearn", 0.6),
      from(0.6, halved),
    );
    expect(discharge(state)).toBe(35);
    expect(state.condition.baseline?.fromMs).toBeGreaterThanOrEqual(midnight + 0.6 * hour * 1000);
  });

  it("keeps the old one, confirmed, where a confirmation comes before the new one is complete", () => {
    const state = unitAfter(
      from(0, hourClean),
      recorded("baseline", "relearn", 1),
      from(1, { ...halved, seconds: 600 }),
      recorded("baseline", "confirm", 1.2),
      from(1.2, halved, halved),
    );
    expect(discharge(state)).toBeCloseTo(86, 0);
    expect(state.condition.baseline?.confirmed).toBe(true);
  });

  it("leaves a window of the fleet file behind that began before, and takes one that begins later", () => {
    const learned = (window: string) => {
      const state = start(unitOf(`{ id: LM-01, ozone: none, baseline: { from: ${window}, for: 30 min } }`));
      run(state, from(0, hourClean), recorded("baseline", "relearn", 1), from(1, halved, hourClean));
      const { baseline } = state.condition;
      return {
        at: iso(baseline?.fromMs ?? 0).slice(11, 16),
        confirmed: baseline?.confirmed,
        of: discharge(state),
      };
    };
    expect(learned("2026-05-04T00:20:00Z")).toEqual({ at: "01:00", confirmed: false, of: 35 });
    expect(learned("2026-05-04T01:20:00Z")).toEqual({ at: "01:20", confirmed: true, of: 35 });
  });
});

describe("after a repair or re-piping", () => {
  const asked = (...inputs: readonly Input[]) => unitAfter(...inputs).condition.reconsider?.work ?? null;

  it("it is asked whether the baseline still holds, until somebody answers", () => {
    const repaired = [from(0, hourClean), recorded("repair", "begin", 1), recorded("repair", "end", 1.1)];
    expect(asked(from(0, hourClean), recorded("repair", "begin", 1))).toBeNull();
    expect(asked(...repaired)).toBe("repair");
    expect(asked(...repaired, recorded("baseline", "confirm", 1.2))).toBeNull();
    expect(asked(...repaired, recorded("baseline", "relearn", 1.2))).toBeNull();
    expect(asked(...repaired, recorded("baseline", "confirm", 1.2), recorded("re-piping", "done", 1.3))).toBe(
      "re-piping",
    );
  });

  it("it is asked where the work lies within the readings that were learned, not where it lies before them", () => {
    expect(asked(recorded("repair", "done", 0), from(0, hourClean))).toBeNull();
    const within = [from(0, { ...hourClean, seconds: 1800 }), recorded("repair", "done", 0.5)];
    expect(asked(...within, from(0.5, hourClean))).toBe("repair");
  });

  it("it is asked where a repair ended by itself", () => {
    const begun = [from(0, hourClean), recorded("repair", "begin", 1, 1.2)];
    expect(asked(...begun, recorded("repair", "lapse", 1.2))).toBe("repair");
  });

  it("it is not asked where a repair was begun by mistake and taken back", () => {
    const begun = [from(0, hourClean), recorded("repair", "begin", 1, 1.2)];
    expect(asked(...begun, recorded("repair", "taken-back", 1.2))).toBeNull();
  });
});
