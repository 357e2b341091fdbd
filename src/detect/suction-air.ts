import { z } from "zod";
import { gaugeEvidence, gaugeNumbers, gaugeWords } from "./gauge-words.ts";
import { headFell, judgeGauges, waterMoves } from "./gauges.ts";
import type { Rule } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "60 s", priority: "medium" }),
  /** Discharge pressure has fallen by this share. */
  discharge_drop: z.number().gt(0).lt(1).default(0.05),
  /** Discharge pressure wavers this many times as much as when clean. */
  unsteady: z.number().min(1).default(2),
});

type Settings = z.output<typeof settings>;

/** Air never deepens the vacuum; noise may, by this share. */
const vacuumHolds = 0.06;
const currentDrops = 0.006;

/** Vacuum shallower and unsteady, discharge pressure and current fallen and wavering: a leak, a vortex. */
export const suctionAir: Rule<Settings, null> = {
  alarm: "suction-air",
  version: 1,
  needs: ["motor_current", ["discharge_pressure", "suction_pressure"]],
  needsBaseline: true,
  settings,
  evidence: gaugeEvidence,
  start: () => null,
  run(_memory, features, from, to, { discharge_drop, unsteady }, met) {
    judgeGauges(features, from, to, met, { discharge: discharge_drop }, (now, ease) => {
      if (!(now.current <= -ease * Math.max(currentDrops, now.currentNoise)) || !waterMoves(now))
        return false;
      if (!Number.isNaN(now.vacuum) && now.vacuum > Math.max(vacuumHolds, now.vacuumNoise)) return false;
      if (Number.isNaN(now.discharge)) {
        return now.vacuum <= -ease * now.vacuumNoise && now.vacuumWavers >= ease * unsteady;
      }
      return (
        now.discharge <= -ease * Math.max(discharge_drop, now.dischargeNoise) &&
        headFell(now, ease) &&
        now.dischargeWavers >= Math.max(ease * unsteady, 1.4)
      );
    });
  },
  numbers: gaugeNumbers,
  say: (numbers, _unit, spoken) =>
    `${gaugeWords(numbers, spoken)}, and they waver ${wavers(numbers[6])}as when clean: air comes in with the water.`,
};

/** `4 times as much `, or as little as can be said. */
export function wavers(times: number): string {
  if (Number.isNaN(times)) return "far more ";
  return `${times < 2 ? times.toFixed(1) : Math.round(times)} times as much `;
}
