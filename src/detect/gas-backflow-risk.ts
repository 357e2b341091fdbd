import { z } from "zod";
import { type Features, operating, someState, water } from "../condition/features.ts";
import { duration, quantity } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute } from "../terms/time.ts";
import { cleanGas, gas, gasNoiseKPa, mostWavering } from "./gas.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const discharge = channelIndex.discharge_pressure;

/** What two gauges of class 1 up to 150 kPa may differ by and both be right (common practice). */
const gaugesDifferKPa = 3;

const settings = z.strictObject({
  /** Over later than the low supply that it brings, so that this is not told at its end. */
  ...common({ delay: "30 s", off_delay: "2 min", priority: "high" }),
  /** How far the gas stands below the discharge, beyond what it did when clean: as far as two good gauges may differ. */
  margin: quantity("kPa", { above: 0 }).default(gaugesDifferKPa),
  /** After prime the gas follows the discharge with a lag of its own. */
  settled_for: duration().default(2 * minute),
});

type Settings = z.output<typeof settings>;

/** So far below the discharge gas is at risk, kPa; NaN where a gauge was not measured when clean. */
function limitKPa({ unit, baseline }: Features, { margin }: Settings): number {
  const clean = cleanGas(unit, baseline);
  if (!clean?.water) return Number.NaN;
  const below = Math.max(0, clean.water.center - clean.gas.center);
  return below + Math.max(margin, gasNoiseKPa(clean));
}

/** Gas injected into the discharge stands below the pressure there: water may run back towards the ozone cell. */
export const gasBackflowRisk: Rule<Settings, null> = {
  alarm: "gas-backflow-risk",
  version: 1,
  needs: ["motor_current", "gas_pressure", "discharge_pressure"],
  needsBaseline: true,
  settings,
  evidence: [
    { name: "gas_pressure", unit: "kPa", against: "limit" },
    { name: "discharge_pressure", unit: "kPa" },
  ],
  quiet(unit, baseline) {
    if (unit.gas.injected !== "discharge") return "its gas is not injected into the discharge";
    const clean = cleanGas(unit, baseline);
    if (!clean?.water || clean.gas.center > clean.water.center - gaugesDifferKPa) return undefined;
    return "its gas stood below the discharge gauge when clean: that gauge does not show the pressure where the gas goes in";
  },
  start: () => null,
  run(_memory, features, from, to, settings, met) {
    const { unit, baseline, state, settledMs, level } = features;
    const clean = cleanGas(unit, baseline);
    if (!someState(features, operating.running, operating.unknown)) {
      met.fill(verdict.no, from, to);
      return;
    }
    if (!clean?.water || clean.gas.center <= clean.water.center - gaugesDifferKPa) {
      met.fill(verdict.hold, from, to);
      return;
    }
    const limit = limitKPa(features, settings);
    const g = level[gas];
    const w = level[discharge];
    // A level stays where it is while its gauge is missing or not trusted: then nothing can be told.
    const gasNow = features.value[gas];
    const waterNow = features.value[discharge];
    const wavers = features.unsteady[discharge];
    for (let row = from; row < to; row++) {
      const below = w[row] - g[row];
      if (state[row] === operating.unknown) met[row] = verdict.hold;
      else if (state[row] !== operating.running) met[row] = verdict.no;
      else if (settledMs[row] < settings.settled_for || features.water[row] !== water.moving)
        met[row] = verdict.hold;
      else if (Number.isNaN(gasNow[row] + waterNow[row]) || wavers[row] > mostWavering)
        met[row] = verdict.hold;
      else if (below >= limit) met[row] = verdict.met;
      else met[row] = below < limit / 2 ? verdict.no : verdict.hold;
    }
  },
  numbers(features, row, settings) {
    const { level } = features;
    const w = level[discharge][row];
    return [level[gas][row], w - limitKPa(features, settings), w, Number.NaN];
  },
  say([g, , w], _unit, { against }) {
    const [gas, water] = against("gas_pressure", g, w, "discharge_pressure");
    return (
      `Gas pressure was ${gas}, below the ${water} of the discharge it is ` +
      "injected into: only a check valve keeps water out of the gas line and the ozone cell."
    );
  },
};
