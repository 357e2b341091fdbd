import type { Baseline, Together } from "../condition/features.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { Unit } from "../fleet/unit.ts";
import { symmetricEigen } from "../statistics/eigen.ts";
import { type HotellingModel, hotellingModel } from "../statistics/hotelling.ts";
import { chiSquareQuantile } from "../statistics/quantiles.ts";
import type { Channel } from "../terms/channels.ts";

/**
 * How far each channel of a pump that is well wanders about its first half hour over days, as a standard
 * deviation: a share of its clean value, and at least so much in its unit (house choices). The current moves with
 * a supply that gives and takes a percent; gauges with the pond's level, wear and air in the water; the vacuum by a
 * pond that falls and rises a hand's breadth; gas with what it is pressed into, and slowly with scale, which
 * has its own alarm; a supply keeps within 5 % (ANSI C84.1, range A, from memory); vibration by a tenth.
 *
 * Temperatures, level and ozone are not here: they follow the weather and the load of half an hour ago, not the
 * running of the minute, and have alarms of their own.
 */
export const usualWander = {
  motor_current: { share: 0.01, least: 0 },
  suction_pressure: { share: 0.05, least: 1.5 },
  discharge_pressure: { share: 0.03, least: 0 },
  gas_pressure: { share: 0.1, least: 0 },
  flow: { share: 0.03, least: 0 },
  gas_flow: { share: 0.1, least: 0 },
  voltage: { share: 0.03, least: 0 },
  power: { share: 0.015, least: 0 },
  vibration: { share: 0.1, least: 0 },
} as const satisfies Partial<Record<Channel, { share: number; least: number }>>;

export type Watched = keyof typeof usualWander;

/** The channels that are watched together, in the order of the evidence. */
export const watched = Object.keys(usualWander) as Watched[];

/** So many signals are watched at most; a skid has fewer. */
export const mostSignals = 16;

/** What the readings of one unit are held against. Lists hold an entry a signal. */
export interface UnusualModel {
  readonly signals: readonly number[];
  readonly channels: readonly Watched[];
  readonly mean: readonly number[];
  /** One over the standard deviation of the average. */
  readonly perSpread: readonly number[];
  /** Of deviations in spreads. */
  readonly hotelling: HotellingModel;
  /** T² is at most this many times the sum of the squared deviations in spreads. */
  readonly most: number;
  /** T² beyond which the average is no longer usual. */
  readonly limit: number;
  readonly tauMs: number;
}

/**
 * The model of a unit: the covariance that the average of its clean readings has, and on top of it what a unit
 * that is well wanders, `wander` times as much as usual. `chance` is that of a usual average to be beyond the
 * limit; averages have the time constant `averagedOverMs`, at least two sample intervals. Null where nothing is watched.
 */
export function unusualModel(
  unit: Unit,
  { together }: Baseline,
  { wander, chance, averagedOverMs }: { wander: number; chance: number; averagedOverMs: number },
  intervalMs: number,
): UnusualModel | null {
  if (together === null) return null;
  const units = signalsOf(unit);
  const places = together.signals
    .flatMap((s, i) => (units[s].channel in usualWander ? [i] : []))
    .slice(0, mostSignals);
  if (places.length === 0) return null;
  const channels = places.map((i) => units[together.signals[i]].channel as Watched);
  const mean = places.map((i) => together.mean[i]);
  const floors = channels.map((channel, k) => {
    const { share, least } = usualWander[channel];
    return wander * Math.max(share * Math.abs(mean[k]), least, tiny);
  });
  const tauMs = Math.max(averagedOverMs, 2 * intervalMs);
  const covariance = ofAverage(together, places, tauMs);
  for (const [k, floor] of floors.entries()) covariance[k][k] += floor * floor;
  addLevel(covariance, channels, wander * levelKPa);
  const spreads = covariance.map((row, k) => Math.sqrt(row[k]));
  const correlation = covariance.map((row, i) => row.map((c, j) => c / (spreads[i] * spreads[j])));
  return {
    signals: places.map((i) => together.signals[i]),
    channels,
    mean,
    perSpread: spreads.map((spread) => 1 / spread),
    hotelling: hotellingModel({ mean: mean.map(() => 0), covariance: correlation }),
    most: 1 / symmetricEigen(correlation).values[channels.length - 1],
    limit: chiSquareQuantile(1 - chance, channels.length),
    tauMs,
  };
}

/** How far a pond falls and rises over a season, as a standard deviation: 40 cm of water, kPa (house choice). */
const levelKPa = 4;

/** A pond's level moves the vacuum and the discharge pressure, measured above it, by the same; head and load stay. */
function addLevel(covariance: number[][], channels: readonly Watched[], kPa: number): void {
  const hangs = channels.map((c) => c === "suction_pressure" || c === "discharge_pressure");
  for (const [i, row] of covariance.entries()) {
    for (const j of row.keys()) if (hangs[i] && hangs[j]) row[j] += kPa * kPa;
  }
}

/** Keeps a channel that always reads 0 from an endless deviation. */
const tiny = 1e-3;

/**
 * The covariance of an average with the time constant τ from that of block means: it is as steady as the mean of a
 * block of 2τ, λ/(2 − λ) being Δt/2τ; a longer block's is taken as it is, since slow noise does not even out.
 * Source of the variance of an average: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.4.
 */
function ofAverage({ covariance, blockMs }: Together, places: readonly number[], tauMs: number): number[][] {
  const share = Math.min(1, blockMs / (2 * tauMs));
  return places.map((i) => places.map((j) => share * covariance[i][j]));
}
