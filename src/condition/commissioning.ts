import type { Unit } from "../fleet/unit.ts";
import { type Channel, channelIndex, channels } from "../terms/channels.ts";
import type { Baseline } from "./features.ts";

/**
 * A baseline agrees within a tenth of the recorded value (house choice): acceptance tests of such pumps allow ±5 % of
 * head and ±8 % of flow on a test stand (ISO 9906:2012, table 8, grade 2B), and a panel gauge adds its own 2.5 % on
 * either side (EN 837-1, class 2.5; from memory).
 */
const share = 0.1;
/** At least this; in stored units (house choices). */
const least: Readonly<Partial<Record<Channel, number>>> = {
  /** A pond falls and rises by half a metre. */
  suction_pressure: 5,
  /** A motor goes with the air about it, which differs so much between a cool morning and a summer's noon. */
  motor_temperature: 15,
};
/** A single look at a gauge lies within so many spreads of its median nineteen times in twenty; its resolution too. */
const spreads = 2;

/** A recorded value that a baseline does not bear out, stored unit. */
export interface Difference {
  readonly channel: Channel;
  readonly recorded: number;
  /** Null where the baseline does not know the channel. */
  readonly learned: number | null;
}

/** Which values of the unit's commissioning record a baseline does not bear out; null where there is no record. */
export function differencesFrom(
  { commissioning }: Pick<Unit, "commissioning">,
  { signals }: Baseline,
): readonly Difference[] | null {
  if (commissioning === undefined) return null;
  return channels.flatMap((channel): Difference[] => {
    const recorded = commissioning.values[channel];
    if (recorded === undefined) return [];
    const clean = signals[channelIndex[channel]];
    if (clean === null) return [{ channel, recorded, learned: null }];
    const allowed = Math.max(share * Math.abs(recorded), least[channel] ?? 0, spreads * clean.spread);
    return Math.abs(clean.center - recorded) <= allowed ? [] : [{ channel, recorded, learned: clean.center }];
  });
}

/** Whether the fleet file, a person or the commissioning record bears a baseline out. */
export function isConfirmed(unit: Pick<Unit, "commissioning">, baseline: Baseline): boolean {
  return baseline.confirmed || differencesFrom(unit, baseline)?.length === 0;
}
