import { expect, test } from "vitest";
import { dutyAtSpeed } from "../../src/physics/affinity.ts";
import { hydraulicPowerW } from "../../src/physics/pump-power.ts";

test.each([
  [0.9, 0.9, 0.81, 0.729],
  [0.8, 0.8, 0.64, 0.512],
])(
  "at %d of its speed a pump moves %d of the water to %d of the head for %d of the power",
  (ratio, flow, head, taken) => {
    const duty = dutyAtSpeed({ flowLpm: 1, headM: 1, powerW: 1 }, ratio);
    expect(duty.flowLpm).toBeCloseTo(flow, 12);
    expect(duty.headM).toBeCloseTo(head, 12);
    expect(duty.powerW).toBeCloseTo(taken, 12);
  },
);

test("power given to the water follows the cube of the speed, as flow times head does", () => {
  const slow = { flowLpm: 100, headM: 12, powerW: hydraulicPowerW(100, 12) };
  const fast = dutyAtSpeed(slow, 1.2);
  expect(hydraulicPowerW(fast.flowLpm, fast.headM)).toBeCloseTo(fast.powerW, 9);
});
