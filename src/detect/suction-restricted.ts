import { z } from "zod";
import { gaugeEvidence, gaugeNumbers, gaugeWords, judgeGauges, waterStopped } from "./gauges.ts";
import type { Rule } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "60 s", priority: "medium" }),
  /** The vacuum is deeper than its clean depth by this share: a strainer half clogged (house choice). */
  vacuum_deeper: z.number().gt(0).default(0.25),
  /** Discharge pressure has fallen by this share. */
  discharge_drop: z.number().gt(0).lt(1).default(0.02),
  /** Without a vacuum gauge: the discharge has fallen by this share and the motor has unloaded. */
  discharge_drop_alone: z.number().gt(0).lt(1).default(0.08),
});

type Settings = z.output<typeof settings>;

/** The current may stand this much over clean and still not speak of more flow: the supply's voltage wanders. */
const currentWanders = 0.012;
const currentDrops = 0.004;

/**
 * The vacuum deepens while discharge pressure and current fall: strainer, screen or foot valve. Where the
 * vacuum is not measured, discharge pressure and current that fall steadily together. High when the flow has stopped.
 */
export const suctionRestricted: Rule<Settings, null> = {
  alarm: "suction-restricted",
  version: 1,
  needs: ["motor_current", ["suction_pressure", "discharge_pressure"]],
  needsBaseline: true,
  settings,
  evidence: gaugeEvidence,
  start: () => null,
  run(_memory, features, from, to, { vacuum_deeper, discharge_drop, discharge_drop_alone }, met) {
    judgeGauges(features, from, to, met, { vacuum: vacuum_deeper }, (now, ease) => {
      const { discharge, vacuum, current, dischargeWavers } = now;
      if (!(current <= currentWanders)) return false;
      if (Number.isNaN(vacuum)) {
        const drop = ease * Math.max(discharge_drop_alone, now.dischargeNoise);
        return discharge <= -drop && current <= -ease * currentDrops && dischargeWavers < 2.5;
      }
      if (vacuum < ease * Math.max(vacuum_deeper, now.vacuumNoise)) return false;
      if (Number.isNaN(discharge)) return current <= -ease * currentDrops;
      return discharge <= -ease * discharge_drop;
    });
  },
  numbers: gaugeNumbers,
  priorityAt: (features, row, { priority }) => (waterStopped(features, row) ? "high" : priority),
  say(numbers, unit, spoken) {
    const [, , s] = numbers;
    const said = `${gaugeWords(numbers, spoken)}: less water comes through the suction line.`;
    if (Number.isNaN(s)) return `${said} Without a vacuum gauge a fouled impeller looks alike.`;
    return unit.site === undefined
      ? said
      : `${said} If its neighbours on one water show it too, the level has fallen.`;
  },
};
