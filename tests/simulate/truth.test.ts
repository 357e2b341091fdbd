import { expect, test } from "vitest";
import type { Fault } from "../../src/simulate/fault.ts";
import { stoppedPlant } from "../../src/simulate/plant-state.ts";
import { startTruth } from "../../src/simulate/truth.ts";
import { hour, minute } from "../../src/terms/time.ts";

const covered = (fromMs: number): Fault => ({
  kind: "suction-blocked",
  fromMs,
  toMs: fromMs + hour,
  severity: 1,
  courseMs: 0,
});

test("a covered suction is cavitation where the water boiled in its own time, not at another fault of the unit", () => {
  const truth = startTruth({ faults: [covered(hour), covered(5 * hour)], sharedOutlet: false });
  for (let timeMs = 0; timeMs < 8 * hour; timeMs += minute) {
    const boils = timeMs >= 5 * hour && timeMs < 6 * hour;
    const plant = { ...stoppedPlant(timeMs, 20), running: true, cavitating: boils ? 0.5 : 0.1 };
    truth.see(timeMs, plant, true);
  }
  expect(truth.told(8 * hour).map(({ alarms }) => alarms)).toEqual([["suction-restricted"], ["cavitation"]]);
});
