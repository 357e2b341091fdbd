import { z } from "zod";
import { type Features, operating, someState, water } from "../condition/features.ts";
import { duration } from "../fleet/quantity.ts";
import { minute } from "../terms/time.ts";
import { cleanGas, gas, gasNoiseKPa, gasNumbers, mostWavering, waterGauge } from "./gas.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "60 s", priority: "medium" }),
  /**
   * The gas has lost this share of what it stood above the water when clean, or of its own pressure where no
   * gauge shows the water's. A line that was a little scaled when its baseline was taken loses less than that by
   * being cleaned (house choice).
   */
  drop: z.number().gt(0).lt(1).default(0.3),
  /** After prime water is first driven out of the gas line, for minutes (common practice). */
  settled_for: duration().default(3 * minute),
});

type Settings = z.output<typeof settings>;

/** Where the water cannot be taken off, gas is judged only with the water's gauge within this share of its clean level. */
const waterNear = 0.1;
/** At least so much, kPa: a small vacuum is not taken for a level of its own. */
const waterNearKPa = 2;
/** A smaller drop is within what a good gauge wanders, kPa (common practice). */
const leastDropKPa = 1;
/** Below this part of its limit a drop counts as gone. */
const goneShare = 0.6;

/** How gas is judged at a unit: against which gauge, and from which drop on. */
function judged({ unit, baseline }: Features, drop: number) {
  const clean = cleanGas(unit, baseline);
  if (clean === null) return null;
  const over = clean.water === null ? Number.NaN : clean.gas.center - clean.water.center;
  const above = unit.gas.feed !== "drawn in" && over > 0;
  const scale = above ? over : Math.abs(clean.gas.center);
  return { clean, above, over, limitKPa: Math.max(drop * scale, gasNoiseKPa(clean), leastDropKPa) };
}

/**
 * Gas pressure is well below what it is when clean: its source gives less, or its tube leaks. Gas that is drawn
 * in stands under a vacuum, and one that grows deeper says that its intake is blocked.
 */
export const gasSupplyLow: Rule<Settings, null> = {
  alarm: "gas-supply-low",
  version: 1,
  needs: ["motor_current", "gas_pressure"],
  needsBaseline: true,
  settings,
  evidence: [
    { name: "gas_pressure", unit: "kPa", against: "baseline" },
    { name: "discharge_pressure", unit: "kPa", against: "baseline" },
    { name: "suction_pressure", unit: "kPa", against: "baseline" },
  ],
  start: () => null,
  run(_memory, features, from, to, { drop, settled_for }, met) {
    if (!someState(features, operating.running, operating.unknown)) {
      met.fill(verdict.no, from, to);
      return;
    }
    const by = judged(features, drop);
    if (by === null) {
      met.fill(verdict.hold, from, to);
      return;
    }
    const { unit, state, settledMs, level } = features;
    const { clean, above, over, limitKPa } = by;
    const g = level[gas];
    const w = level[waterGauge(unit)];
    // A level stays where it is while its gauge is missing or not trusted: then nothing can be told.
    const gasNow = features.value[gas];
    const waterNow = features.value[waterGauge(unit)];
    const wavers = features.unsteady[waterGauge(unit)];
    const wClean = clean.water?.center ?? Number.NaN;
    const near = Math.max(waterNear * Math.abs(wClean), waterNearKPa);
    // A regulator holds one pressure; only a fall that the water does not explain is the feed's.
    const most = unit.gas.feed === "regulated" || !above ? clean.gas.center : Number.POSITIVE_INFINITY;
    for (let row = from; row < to; row++) {
      if (state[row] === operating.unknown) met[row] = verdict.hold;
      else if (state[row] !== operating.running) met[row] = verdict.no;
      else if (settledMs[row] < settled_for || features.water[row] === water.still) met[row] = verdict.hold;
      else if (Number.isNaN(gasNow[row]) || wavers[row] > mostWavering) met[row] = verdict.hold;
      else if (above && Number.isNaN(waterNow[row])) met[row] = verdict.hold;
      else if (!above && Math.abs(w[row] - wClean) > near) met[row] = verdict.hold;
      else {
        const missing = (above ? Math.min(most, w[row] + over) : most) - g[row];
        if (missing >= limitKPa) met[row] = verdict.met;
        else met[row] = missing < goneShare * limitKPa ? verdict.no : verdict.hold;
      }
    }
  },
  numbers: gasNumbers,
  say([g, gClean, p, pClean, s, sClean], unit, { value, against }) {
    const fell = `Gas pressure fell from ${against("gas_pressure", gClean, g).join(" to ")}`;
    if (unit.gas.feed === "drawn in")
      return `${fell}, a deeper vacuum than when clean: its intake lets less in.`;
    const water = !Number.isNaN(p)
      ? `the discharge stood at ${value("discharge_pressure", p)} (baseline ${value("discharge_pressure", pClean)})`
      : !Number.isNaN(s)
        ? `the suction stood at ${value("suction_pressure", s)} (baseline ${value("suction_pressure", sClean)})`
        : "no gauge shows the water's pressure there";
    return `${fell} while ${water}: the gas feed gives less than it did.`;
  },
};
