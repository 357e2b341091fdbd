import { channelIndex } from "../terms/channels.ts";
import { unknownExtremes } from "./extremes.ts";
import { doubt } from "./features.ts";
import { centerOf } from "./operating.ts";
import type { TrustColumns, TrustRests } from "./trust.ts";

const { motor_current, suction_pressure, discharge_pressure, power, voltage, run_command } = channelIndex;

/** A gauge reads as in running from this part of its clean value, as at rest below that. */
export const runningShare = 0.7;
export const restShare = 0.2;
/** A vacuum must be this deep when clean to bear witness, kPa. */
export const leastVacuumKPa = 4;

/**
 * A motor that draws nothing cannot hold up the discharge pressure and a second gauge at their running values:
 * two that agree, and are alive, are believed. Their word counts for each reading by itself. The second is the
 * power, where it is measured, else the vacuum: a flooded suction and gas from a source of its own read the same at
 * a stop. No power, no supply or no command to run says that the motor does stand.
 */
export function contradictCurrent(
  { baseline, restA, suspectMs }: TrustRests,
  from: number,
  to: number,
  out: TrustColumns,
): void {
  const a = out.trusted[motor_current];
  const p = out.trusted[discharge_pressure];
  const clean = centerOf(baseline, discharge_pressure) ?? 0;
  if (a === undefined || p === undefined || clean <= 0) return;
  if (out.extremes[motor_current].least >= restA) return;
  const vacuum = centerOf(baseline, suction_pressure) ?? 0;
  const s = vacuum <= -leastVacuumKPa ? out.trusted[suction_pressure] : undefined;
  const watts = centerOf(baseline, power) ?? 0;
  const w = watts > 0 ? out.trusted[power] : undefined;
  if (s === undefined && w === undefined) return;
  const noSupplyV = restShare * (centerOf(baseline, voltage) ?? 0);
  const v = out.trusted[voltage];
  const commanded = out.trusted[run_command];
  const equalMs = out.equalMs[discharge_pressure];
  const own = out.own[motor_current];
  for (let row = from; row < to; row++) {
    if (!(a[row] < restA && p[row] >= runningShare * clean)) continue;
    if (equalMs !== undefined && equalMs[row] >= suspectMs) continue;
    if ((v !== undefined && v[row] < noSupplyV) || (commanded !== undefined && commanded[row] === 0))
      continue;
    const powerKnown = w !== undefined && !Number.isNaN(w[row]);
    const works = powerKnown ? w[row] / watts : s === undefined ? 0 : s[row] / vacuum;
    if (!(works >= runningShare)) continue;
    if (out.trusted[motor_current] !== own.trusted) {
      own.trusted.set(a.subarray(from, to), from);
      out.trusted[motor_current] = own.trusted;
    }
    if (out.doubts[motor_current] === undefined) {
      out.doubts[motor_current] = own.doubts.fill(doubt.none, from, to);
    }
    out.extremes[motor_current] = unknownExtremes;
    own.trusted[row] = Number.NaN;
    own.doubts[row] = doubt.contradicted;
  }
}
