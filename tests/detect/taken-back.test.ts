import { describe, expect, it } from "vitest";
import { takeBack, withLapses } from "../../src/fleet/services.ts";
import { hour, minute } from "../../src/terms/time.ts";
import { clean, midnight, readings, run, start, unitOf, type Values, wobble } from "../support/unit-days.ts";

const daySeconds = 86_400;
const fouling = (second: number): Values => ({
  ...clean(second),
  discharge_pressure: 86 + 0.8 * wobble(second, "flow"),
  gas_pressure: 110 * (1 + 0.03 * Math.max(0, second / daySeconds - 1)) + 0.3 * wobble(second, "gas_flow"),
});

/** What becomes of the fouling that six days showed, once a cleaning is begun there and ends by `ends`. */
function afterCleaning(ends: "taken back" | "lapsed") {
  const state = start(unitOf());
  run(state, { kind: "readings", batch: readings([{ seconds: 6 * daySeconds, values: fouling }], 600) });
  const atMs = midnight + 6 * daySeconds * 1000;
  const begun = { unit: "LM-01", work: "cleaning", step: "begin", atMs, untilMs: atMs + hour } as const;
  const records = ends === "lapsed" ? [begun] : [begun, takeBack(begun, atMs + minute)];
  run(state, ...withLapses(records).map((record) => ({ kind: "service", record }) as const));
  const drift = state.lives.find(({ alarm }) => alarm === "gas-pressure-drift");
  return { drift: drift?.told, open: state.openServices };
}

describe("a cleaning that was begun at a unit whose gas line fouls", () => {
  it("and taken back leaves the alarm standing: nobody cleaned anything", () => {
    expect(afterCleaning("taken back")).toEqual({ drift: "raised", open: [] });
  });

  it("and ended by itself counts, since somebody was there", () => {
    expect(afterCleaning("lapsed")).toEqual({ drift: "none", open: [] });
  });
});
