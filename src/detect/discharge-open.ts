import { z } from "zod";
import { gaugeEvidence, gaugeNumbers, gaugeWords } from "./gauge-words.ts";
import { headFell, judgeGauges, suctionShut, waterMoves } from "./gauges.ts";
import type { Rule } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "60 s", priority: "high" }),
  /** Discharge pressure has fallen by this share. */
  discharge_drop: z.number().gt(0).lt(1).default(0.08),
});

type Settings = z.output<typeof settings>;

const currentMoves = 0.008;
/** The head falls by this part of what the discharge must; a clogged strainer leaves it or raises it (house choice). */
const headPart = 0.75;

/** Discharge pressure down, vacuum deeper, current up (down on a regenerative pump): a parted or broken line. */
export const dischargeOpen: Rule<Settings, null> = {
  alarm: "discharge-open",
  version: 1,
  needs: ["motor_current", ["discharge_pressure", "suction_pressure"]],
  needsBaseline: true,
  settings,
  evidence: gaugeEvidence,
  start: () => null,
  run(_memory, features, from, to, { discharge_drop }, met) {
    const radial = features.unit.pump.type === "radial" ? 1 : -1;
    judgeGauges(features, from, to, met, { discharge: discharge_drop }, (now, ease) => {
      const loads = radial * now.current >= ease * Math.max(currentMoves, now.currentNoise);
      if (Number.isNaN(now.discharge)) return loads && now.vacuum >= ease * now.vacuumNoise;
      if (!Number.isNaN(now.vacuum) && now.vacuum < -now.vacuumNoise / 2) return false;
      // Where no pressure is left, the vacuum of much water tells an open line from a dead gauge.
      if (!waterMoves(now) && !(now.vacuum >= now.vacuumNoise)) return false;
      if (suctionShut(now)) return false;
      const falls = now.discharge <= -ease * Math.max(discharge_drop, now.dischargeNoise);
      return falls && headFell(now, ease, headPart * discharge_drop) && loads;
    });
  },
  numbers: gaugeNumbers,
  say: (numbers, _unit, spoken) =>
    `${gaugeWords(numbers, spoken)}: more water runs than the generator lets through, so the line is open.`,
};
