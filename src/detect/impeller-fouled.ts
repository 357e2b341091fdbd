import { z } from "zod";
import { gaugeEvidence, gaugeNumbers, gaugeWords } from "./gauge-words.ts";
import { headFell, judgeGauges, waterMoves } from "./gauges.ts";
import type { Rule } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  /** It comes slowly and harms slowly; the patterns that it may be mistaken for have shown by then. */
  ...common({ delay: "5 min", off_delay: "60 s", priority: "medium" }),
  /** Discharge pressure has fallen by this share. */
  discharge_drop: z.number().gt(0).lt(1).default(0.07),
});

type Settings = z.output<typeof settings>;

/** Less water is drawn, so the vacuum is no deeper; noise may make it so by this share. */
const vacuumHolds = 0.02;
const currentDrops = 0.004;
const steady = 2.2;

/** Vacuum shallower and steady, discharge pressure and current down: weed in the impeller, or wear. */
export const impellerFouled: Rule<Settings, null> = {
  alarm: "impeller-fouled",
  version: 1,
  needs: ["motor_current", "suction_pressure", "discharge_pressure"],
  needsBaseline: true,
  settings,
  evidence: gaugeEvidence,
  start: () => null,
  run(_memory, features, from, to, { discharge_drop }, met) {
    judgeGauges(
      features,
      from,
      to,
      met,
      { discharge: discharge_drop },
      (now, ease) =>
        waterMoves(now) &&
        now.discharge <= -ease * Math.max(discharge_drop, now.dischargeNoise) &&
        now.vacuum <= vacuumHolds &&
        now.current <= -ease * Math.max(currentDrops, now.currentNoise) &&
        headFell(now, ease) &&
        now.dischargeWavers < steady,
    );
  },
  numbers: gaugeNumbers,
  say: (numbers, _unit, spoken) =>
    `${gaugeWords(numbers, spoken)}, all steady: the impeller moves less water than it did.`,
};
