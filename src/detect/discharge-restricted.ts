import { z } from "zod";
import { gaugeEvidence, gaugeNumbers, gaugeWords } from "./gauge-words.ts";
import { headRose, judgeGauges } from "./gauges.ts";
import type { Rule } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  ...common({ delay: "90 s", off_delay: "60 s", priority: "medium" }),
  /** Discharge pressure has risen by this share. */
  discharge_rise: z.number().gt(0).default(0.06),
});

type Settings = z.output<typeof settings>;

/** A restriction never deepens the vacuum; noise may, by this share. */
const vacuumHolds = 0.05;
/** A vacuum that has lost more than this share is gone: the pump draws no water at all. */
const vacuumGone = 0.6;
const currentMoves = 0.004;

/** Discharge pressure up, vacuum shallower; the current down, or up on a regenerative pump: generator or line blocked. */
export const dischargeRestricted: Rule<Settings, null> = {
  alarm: "discharge-restricted",
  version: 1,
  needs: ["motor_current", ["discharge_pressure", "suction_pressure"]],
  needsBaseline: true,
  settings,
  evidence: gaugeEvidence,
  start: () => null,
  run(_memory, features, from, to, { discharge_rise }, met) {
    const radial = features.unit.pump.type === "radial" ? 1 : -1;
    judgeGauges(features, from, to, met, { discharge: discharge_rise }, (now, ease) => {
      const unloads = radial * now.current <= -ease * Math.max(currentMoves, now.currentNoise);
      if (Number.isNaN(now.discharge)) {
        // With a vacuum gauge alone: less water is drawn, and steadily.
        return (
          unloads && now.vacuum <= -ease * now.vacuumNoise && now.vacuum > -vacuumGone && now.vacuumWavers < 2
        );
      }
      if (!Number.isNaN(now.vacuum) && now.vacuum > Math.max(vacuumHolds, now.vacuumNoise)) return false;
      const rises = now.discharge >= ease * Math.max(discharge_rise, now.dischargeNoise);
      return rises && headRose(now, ease) && unloads;
    });
  },
  numbers: gaugeNumbers,
  say(numbers, _unit, spoken) {
    const said = `${gaugeWords(numbers, spoken)}: the pump pushes against more than it did.`;
    return Number.isNaN(numbers[0])
      ? `${said} Without a discharge gauge a fouled impeller looks alike.`
      : said;
  },
};
