import { type Extremes, extremesOf, unknownExtremes } from "../condition/extremes.ts";
import { type Features, operating } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute } from "../terms/time.ts";

const current = channelIndex.motor_current;
const suction = channelIndex.suction_pressure;
const discharge = channelIndex.discharge_pressure;

/** After prime the gauges settle for so long (house choice: the air left in the casing goes within a minute). */
export const settleMs = 2 * minute;
/** A vacuum smaller than this is not taken for a depth of its own, kPa: its shares are of this at least. */
export const leastVacuumKPa = 8;

/** How far the gauges stand from clean over the rows of one `run` call, worked out once for all rules. */
interface Gauged {
  /** Greatest deviations either way over settled running; NaN where the gauge is not measured in some row. */
  greatestDischarge: number;
  greatestVacuum: number;
  /** Some reading of a gauge that the baseline knows is missing. */
  someLost: boolean;
  /** Every row is settled running. */
  settled: boolean;
  /** Deviations row by row, once a rule has asked for them. */
  rowsRead: boolean;
  discharge: Float64Array;
  vacuum: Float64Array;
  current: Float64Array;
  head: Float64Array;
}

export const gauged: Gauged = {
  greatestDischarge: 0,
  greatestVacuum: 0,
  someLost: false,
  settled: false,
  rowsRead: false,
  discharge: new Float64Array(0),
  vacuum: new Float64Array(0),
  current: new Float64Array(0),
  head: new Float64Array(0),
};
/** Whose rows `gauged` holds; each `run` call has features of its own. */
let gaugedOf: Features | null = null;

/** Reads the bounds of a `run` call's rows into `gauged`, once for all rules. */
export function readGauges(features: Features, from: number, to: number): void {
  if (gaugedOf === features) return;
  gaugedOf = features;
  gauged.rowsRead = false;
  const { baseline, extremes, level, states, settledMs } = features;
  gauged.someLost = [current, suction, discharge].some(
    (signal) => baseline?.signals[signal] && Number.isNaN(extremes[signal].least),
  );
  gauged.settled = states === 1 << operating.running && settledMs[from] >= settleMs;
  const bounds = (signal: number) =>
    gauged.settled ? extremesOf(level[signal], from, to) : settledExtremes(features, level[signal], from, to);
  const { dischargeOf, vacuumOf } = deviations(features);
  gauged.greatestDischarge = greatest(bounds(discharge), dischargeOf);
  gauged.greatestVacuum = greatest(bounds(suction), vacuumOf);
}

/** The pressure that the pump adds when clean, kPa; NaN where a gauge is missing. */
export function cleanHeadKPa({ baseline }: Features): number {
  const kPa = (centerOf(baseline, discharge) ?? Number.NaN) - (centerOf(baseline, suction) ?? Number.NaN);
  return kPa > 0 ? kPa : Number.NaN;
}

/** The level of a gauge at one row; its reading where no level follows it, as before prime. */
export function gaugeAt({ level, value }: Features, signal: number, row: number): number {
  const smoothed = level[signal][row];
  return Number.isNaN(smoothed) ? value[signal][row] : smoothed;
}

/** Whether a gauge that was there when clean has no reading at this row. */
export function gaugeLost({ baseline, value }: Features, row: number): boolean {
  const lost = (signal: number) => baseline?.signals[signal] != null && Number.isNaN(value[signal][row]);
  return lost(discharge) || lost(suction) || lost(current);
}

/** Deviations of a gauge's level from clean, as in `Deviation`; NaN where it was not measured when clean. */
function deviations({ baseline }: Features) {
  const clean = (signal: number) => centerOf(baseline, signal) ?? Number.NaN;
  const dischargeClean = clean(discharge) > 0 ? clean(discharge) : Number.NaN;
  const currentClean = clean(current) > 0 ? clean(current) : Number.NaN;
  const suctionClean = clean(suction);
  const depthKPa = Math.max(-suctionClean, leastVacuumKPa);
  return {
    dischargeOf: (kPa: number) => kPa / dischargeClean - 1,
    vacuumOf: (kPa: number) => (suctionClean - kPa) / depthKPa,
    currentOf: (a: number) => a / currentClean - 1,
  };
}

/** A deviation rises or falls with its level, so it is greatest at a bound; 0 where there is no row. */
function greatest({ least, greatest: most }: Extremes, deviationOf: (level: number) => number): number {
  return least > most ? 0 : Math.max(Math.abs(deviationOf(least)), Math.abs(deviationOf(most)));
}

/** Bounds over the rows of settled running; crossed where there is none. */
function settledExtremes(
  { state, settledMs }: Features,
  column: Float64Array,
  from: number,
  to: number,
): Extremes {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let row = from; row < to; row++) {
    if (state[row] !== operating.running || settledMs[row] < settleMs) continue;
    const x = column[row];
    if (Number.isNaN(x)) return unknownExtremes;
    least = Math.min(least, x);
    most = Math.max(most, x);
  }
  return { least, greatest: most };
}

/** Reads the deviations of a `run` call's rows into `gauged`, once for all rules. */
export function readRows(features: Features, from: number, to: number): void {
  if (gauged.rowsRead) return;
  gauged.rowsRead = true;
  const { level } = features;
  if (gauged.discharge.length < level[discharge].length) {
    for (const key of ["discharge", "vacuum", "current", "head"] as const) {
      gauged[key] = new Float64Array(level[discharge].length);
    }
  }
  const { dischargeOf, vacuumOf, currentOf } = deviations(features);
  const cleanHead = cleanHeadKPa(features);
  for (let row = from; row < to; row++) {
    gauged.discharge[row] = dischargeOf(level[discharge][row]);
    gauged.vacuum[row] = vacuumOf(level[suction][row]);
    gauged.current[row] = currentOf(level[current][row]);
    gauged.head[row] = (level[discharge][row] - level[suction][row]) / cleanHead - 1;
  }
}
