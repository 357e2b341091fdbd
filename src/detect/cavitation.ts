import { z } from "zod";
import { channelIndex } from "../terms/channels.ts";
import { gaugeEvidence, gaugeNumbers, gaugeWords } from "./gauge-words.ts";
import { judgeGauges, waterMoves } from "./gauges.ts";
import { npshHereM } from "./npsh-here.ts";
import type { Rule } from "./rule.ts";
import { common } from "./settings.ts";
import { wavers } from "./suction-air.ts";

const current = channelIndex.motor_current;
const suction = channelIndex.suction_pressure;
const water = channelIndex.water_temperature;

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "3 min", priority: "high" }),
  /** The vacuum is deeper than its clean depth by this share. */
  vacuum_deeper: z.number().gt(0).default(0.2),
  /** Discharge pressure has fallen by this share: the head falls. */
  discharge_drop: z.number().gt(0).lt(1).default(0.05),
  /** Discharge pressure, or the current, fluctuates this many times as much as when clean. */
  unsteady: z.number().min(1).default(2.5),
});

type Settings = z.output<typeof settings>;

/**
 * Discharge pressure and current fluctuate well beyond the unit's baseline while the head falls and the vacuum
 * is deep. Signs after DOE-HDBK-1018/1-93. Where the site is known, the NPSH margin is told beside them: it
 * confirms, and alone it is only a caution of `site`. The head falls below the pump's curve, not below its clean value:
 * the starved pump stands higher on that curve. So no fall of the head is asked; the wavering tells it from a pond's level.
 */
export const cavitation: Rule<Settings, null> = {
  alarm: "cavitation",
  version: 1,
  needs: ["motor_current", "suction_pressure", "discharge_pressure"],
  needsBaseline: true,
  settings,
  evidence: [
    ...gaugeEvidence,
    { name: "npsh_available", unit: "m", against: "limit" },
    { name: "current_unsteadiness", unit: "× clean" },
  ],
  start: () => null,
  run(_memory, features, from, to, { vacuum_deeper, discharge_drop, unsteady }, met) {
    judgeGauges(
      features,
      from,
      to,
      met,
      { vacuum: vacuum_deeper, discharge: discharge_drop },
      (now, ease) => {
        const wild = Math.max(ease * unsteady, 1.4);
        return (
          now.vacuum >= ease * Math.max(vacuum_deeper, now.vacuumNoise) &&
          now.discharge <= -ease * Math.max(discharge_drop, now.dischargeNoise) &&
          waterMoves(now) &&
          (now.dischargeWavers >= wild || now.currentWavers >= wild)
        );
      },
    );
  },
  numbers: (features, row) => [
    ...gaugeNumbers(features, row),
    npshHereM(features.unit, features.level[suction][row], features.value[water][row]),
    features.unit.pump.npshRequiredM ?? Number.NaN,
    features.unsteady[current][row],
    Number.NaN,
  ],
  say(numbers, _unit, spoken) {
    const [dischargeWavers, , available, required, currentWavers] = numbers.slice(6);
    const [what, times] =
      currentWavers > dischargeWavers ? ["current", currentWavers] : ["discharge pressure", dischargeWavers];
    const said = `${gaugeWords(numbers, spoken)}, and the ${what} wavers ${wavers(times)}as when clean`;
    if (Number.isNaN(available) || Number.isNaN(required))
      return `${said}: vapour forms in the pump (cavitation).`;
    const margin = `NPSH available ${spoken.length(available)}, required ${spoken.length(required)} at duty`;
    return `${said}: vapour forms in the pump (cavitation; ${margin}).`;
  },
};
