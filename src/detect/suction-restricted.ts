import { z } from "zod";
import { type Features, operating, someState } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { channelIndex } from "../terms/channels.ts";
import { day, minute } from "../terms/time.ts";
import { leastVacuumKPa, settleMs } from "./gauge-deviations.ts";
import { gaugeEvidence, gaugeNumbers, gaugeWords } from "./gauge-words.ts";
import { judgeGauges, suctionShut, waterStopped } from "./gauges.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "3 min", priority: "medium" }),
  /** The vacuum is deeper than its clean depth by this share: a strainer half clogged (house choice). */
  vacuum_deeper: z.number().gt(0).default(0.25),
  /** Discharge pressure has fallen by this share. */
  discharge_drop: z.number().gt(0).lt(1).default(0.02),
  /** Without a vacuum gauge: the discharge has fallen by this share and the motor has unloaded. */
  discharge_drop_alone: z.number().gt(0).lt(1).default(0.08),
});

type Settings = z.output<typeof settings>;

/** The current may stand this much over clean and still not speak of more flow: the supply's voltage wanders. More needs a head that stays: an open line loses it. */
const currentWanders = 0.012;
const currentDrops = 0.004;

/**
 * A pond that falls deepens the vacuum by as much as it lowers the discharge: the pump's head and load stay, within
 * these shares, and the vacuum has deepened over days. What clogs lowers the flow, or comes sooner.
 */
const headStays = 0.015;
const loadStays = 0.01;
const slowOverMs = 1.5 * day;
const soonShare = 0.1;
/** The slow vacuum is followed from one such moment to the next. */
const everyMs = 10 * minute;

interface Memory {
  /** The vacuum of the last days, kPa gauge; null before the first settled running. */
  slowKPa: number | null;
  atMs: number;
}

const current = channelIndex.motor_current;
const suction = channelIndex.suction_pressure;
const discharge = channelIndex.discharge_pressure;

/** Takes back the verdicts that a falling pond explains, and follows the vacuum slowly where nothing restricts it. */
function forgiveLevel(
  memory: Memory,
  { baseline, level, state, timeMs, unit }: Features,
  from: number,
  to: number,
  met: Uint8Array,
): void {
  const clean = (signal: number) => centerOf(baseline, signal) ?? Number.NaN;
  const cleanKPa = clean(suction);
  const headKPa = clean(discharge) - cleanKPa;
  const currentA = clean(current);
  const soonKPa = soonShare * Math.max(-cleanKPa, leastVacuumKPa);
  const radial = unit.pump.type === "radial" ? 1 : -1;
  for (let row = from; row < to; row++) {
    if (state[row] !== operating.running) continue;
    const vacuumKPa = level[suction][row];
    if (met[row] === verdict.met && memory.slowKPa !== null) {
      const slow = memory.slowKPa - vacuumKPa < soonKPa;
      const head = (level[discharge][row] - vacuumKPa) / headKPa - 1;
      const load = radial * (level[current][row] / currentA - 1);
      if (slow && Math.abs(head) < headStays && load > -loadStays) met[row] = verdict.no;
    }
    if (timeMs[row] - memory.atMs < everyMs || met[row] === verdict.met || Number.isNaN(vacuumKPa)) continue;
    const passedMs = Math.min(timeMs[row] - memory.atMs, slowOverMs);
    memory.slowKPa ??= cleanKPa;
    if (passedMs > 0) memory.slowKPa -= Math.expm1(-passedMs / slowOverMs) * (vacuumKPa - memory.slowKPa);
    memory.atMs = timeMs[row];
  }
}

/**
 * A start that draws a vacuum so much deeper than the clean running's has its suction shut: a leak lets none grow, and
 * three metres are more than a pond falls between two starts (house choice). In its deadband below that part of it.
 */
const shutAtStartKPa = 30;
const stillShut = 0.6;

/** Judges a start that has not primed, whose gauges no level follows: only a shut suction shows there. */
function judgeStart(
  { baseline, sinceStartMs, state, value }: Features,
  from: number,
  to: number,
  met: Uint8Array,
) {
  const cleanKPa = centerOf(baseline, suction);
  if (cleanKPa === undefined) return;
  for (let row = from; row < to; row++) {
    if (state[row] !== operating.priming) continue;
    const deeperKPa = cleanKPa - value[suction][row];
    if (sinceStartMs[row] < settleMs || Number.isNaN(deeperKPa)) met[row] = verdict.hold;
    else if (deeperKPa >= shutAtStartKPa) met[row] = verdict.met;
    else met[row] = deeperKPa >= stillShut * shutAtStartKPa ? verdict.hold : verdict.no;
  }
}

/**
 * The vacuum deepens while discharge pressure and current fall: strainer, screen or foot valve. Where the
 * vacuum is not measured, discharge pressure and current that fall steadily together. At a start that has not primed, a
 * vacuum far deeper than clean. High when the flow has stopped.
 */
export const suctionRestricted: Rule<Settings, Memory> = {
  alarm: "suction-restricted",
  version: 3,
  needs: ["motor_current", ["suction_pressure", "discharge_pressure"]],
  needsBaseline: true,
  settings,
  evidence: gaugeEvidence,
  start: () => ({ slowKPa: null, atMs: Number.NEGATIVE_INFINITY }),
  run(memory, features, from, to, { vacuum_deeper, discharge_drop, discharge_drop_alone }, met) {
    const radial = features.unit.pump.type === "radial" ? 1 : -1;
    judgeGauges(features, from, to, met, { vacuum: vacuum_deeper }, (now, ease) => {
      if (!(radial * now.current <= currentWanders || now.head >= -headStays || suctionShut(now)))
        return false;
      const unloads = radial * now.current <= -ease * Math.max(currentDrops, now.currentNoise);
      if (Number.isNaN(now.vacuum)) {
        const drop = ease * Math.max(discharge_drop_alone, now.dischargeNoise);
        return now.discharge <= -drop && unloads && now.dischargeWavers < 2.5;
      }
      if (now.vacuum < ease * Math.max(vacuum_deeper, now.vacuumNoise)) return false;
      return Number.isNaN(now.discharge) ? unloads : now.discharge <= -ease * discharge_drop;
    });
    if (features.baseline === null) return;
    forgiveLevel(memory, features, from, to, met);
    if (someState(features, operating.priming)) judgeStart(features, from, to, met);
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
