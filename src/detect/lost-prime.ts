import { z } from "zod";
import { type Baseline, operating } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { type Channel, channelIndex } from "../terms/channels.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const current = channelIndex.motor_current;
const discharge = channelIndex.discharge_pressure;
const suction = channelIndex.suction_pressure;

const settings = z.strictObject({
  ...common({ delay: "30 s", off_delay: "30 s", priority: "high" }),
  /** Discharge pressure has collapsed below this part of its baseline: a dry pump churns up a twentieth; water half full of air keeps a third (house choice). */
  discharge_below: z.number().gt(0).lt(1).default(0.2),
  /**
   * The motor is unloaded when its current is this part below its baseline, or four robust standard
   * deviations if that is more. An unloaded capacitor-start motor draws 70–80 % of full load, so losing
   * the whole load may show as a drop of a tenth (common practice).
   */
  current_drop: z.number().gt(0).lt(1).default(0.06),
  /** Without a discharge gauge: the vacuum is gone when it is shallower than this part of its baseline. */
  vacuum_below: z.number().gt(0).lt(1).default(0.3),
});

/** Pressures and vacuums whose baseline is smaller than this cannot collapse visibly, kPa. */
const smallestBaselineKPa = 4;
/** A vacuum this much deeper than its baseline speaks of a blocked suction. */
const deepFactor = 1.2;

type Settings = z.output<typeof settings>;

/**
 * The motor runs unloaded and the pump no longer moves water. Judged once prime had been established in
 * this run, on current and discharge pressure together against the unit's own baseline; the suction
 * vacuum decides where discharge pressure is not measured or lost, else it is told, since a check valve may hold it.
 */
export const lostPrime: Rule<Settings, null> = {
  alarm: "lost-prime",
  version: 1,
  needs: ["motor_current", ["discharge_pressure", "suction_pressure"]],
  needsBaseline: true,
  settings,
  evidence: [
    { name: "discharge_pressure", unit: "kPa", against: "baseline" },
    { name: "motor_current", unit: "A", against: "baseline" },
    { name: "suction_pressure", unit: "kPa", against: "baseline" },
  ],
  quiet(_unit, baseline) {
    if (baseline === null || judgedBy(baseline) !== undefined) return undefined;
    const why =
      `its clean discharge pressure and vacuum are under ${smallestBaselineKPa} kPa, or unsteadier than a ` +
      "quarter of themselves: a collapse cannot be seen";
    return { why, lacks: "usable clean pressures" };
  },
  limits(_unit, baseline, { discharge_below }) {
    if (judgedBy(baseline) !== discharge) return [];
    const center = baseline?.signals[discharge]?.center ?? 0;
    return [{ channel: "discharge_pressure", side: "low", value: discharge_below * center }];
  },
  start: () => null,
  run(_memory, features, from, to, { discharge_below, current_drop, vacuum_below }, met) {
    const { baseline, state, value, extremes } = features;
    const clean = baseline?.signals[current];
    const by = judgedBy(baseline);
    if (!clean || by === undefined) {
      met.fill(verdict.hold, from, to);
      return;
    }
    const drop = Math.max(current_drop * clean.center, 4 * clean.spread);
    const collapsed = by === discharge ? discharge_below : vacuum_below;
    const whole = centerOf(baseline, by) ?? Number.NaN;
    const enough = Math.min(1, collapsed + 0.1);
    const known = !Number.isNaN(extremes[current].least);
    if (features.pumping && known && by === discharge && extremes[discharge].least / whole > enough) {
      met.fill(verdict.no, from, to);
      return;
    }
    const gauge = value[by];
    const a = value[current];
    const vacuum = value[suction];
    const cleanVacuum = centerOf(baseline, suction) ?? Number.NaN;
    const deeperThan = deepFactor * Math.min(cleanVacuum, -smallestBaselineKPa);
    const vacuumTells = by === discharge && canCollapse(baseline, suction, -1);
    for (let row = from; row < to; row++) {
      if (state[row] === operating.stopped) {
        met[row] = verdict.no;
        continue;
      }
      // What is left of the pressure, or of the vacuum: 1 at the baseline.
      const lost = vacuumTells && Number.isNaN(gauge[row]);
      const left = lost ? vacuum[row] / cleanVacuum : gauge[row] / whole;
      const unloadedBy = clean.center - a[row];
      if (state[row] === operating.running && vacuum[row] < deeperThan) {
        // A deep vacuum is drawn by a primed pump: its suction is blocked.
        met[row] = verdict.no;
      } else if (state[row] !== operating.running || Number.isNaN(left) || Number.isNaN(unloadedBy)) {
        met[row] = verdict.hold;
      } else if (left < (lost ? vacuum_below : collapsed) && unloadedBy > drop) {
        met[row] = verdict.met;
      } else if ((left > enough && !lost) || unloadedBy < 0.5 * drop) {
        met[row] = verdict.no;
      } else {
        // So is a vacuum that stands beside a lost discharge gauge: a check valve may hold it.
        met[row] = verdict.hold;
      }
    }
  },
  numbers: ({ baseline, value }, row) =>
    [discharge, current, suction].flatMap((signal) => [
      value[signal][row],
      centerOf(baseline, signal) ?? Number.NaN,
    ]),
  say([p, pBase, a, aBase, v, vBase], _unit, { against }) {
    const beside = (channel: Channel, now: number, clean: number) => {
      const [read, baseline] = against(channel, now, clean);
      return `${read} (baseline ${baseline})`;
    };
    const unloaded = `the motor ran unloaded at ${beside("motor_current", a, aBase)}`;
    const vacuum = vacuumWords(v, vBase, beside("suction_pressure", v, vBase));
    if (Number.isNaN(p))
      return `${capital(unloaded)} and ${vacuum ?? "the vacuum was gone"}: the pump moved no water.`;
    const pressure = `discharge pressure collapsed to ${beside("discharge_pressure", p, pBase)}`;
    return `${capital(pressure)} and ${unloaded}${vacuum ? `; ${vacuum}` : ""}.`;
  },
};

/**
 * The signal whose collapse is judged: discharge pressure, else the vacuum; undefined where both are too
 * small, or noisier than four robust standard deviations allow.
 */
function judgedBy(baseline: Baseline | null): number | undefined {
  if (canCollapse(baseline, discharge, 1)) return discharge;
  return canCollapse(baseline, suction, -1) ? suction : undefined;
}

function canCollapse(baseline: Baseline | null, signal: number, sign: number): boolean {
  const clean = baseline?.signals[signal];
  return clean != null && sign * clean.center >= Math.max(smallestBaselineKPa, 4 * clean.spread);
}

function vacuumWords(v: number, base: number, numbers: string): string | undefined {
  if (Number.isNaN(v) || Number.isNaN(base) || base > -smallestBaselineKPa) return undefined;
  if (v / base < 0.3) return `the vacuum was gone, ${numbers}`;
  return `the vacuum was held at ${numbers}, as a check valve holds it`;
}

function capital(text: string): string {
  return text[0].toUpperCase() + text.slice(1);
}
