import type { Features } from "../condition/features.ts";
import type { Spoken } from "../fleet/display.ts";
import type { Unit } from "../fleet/unit.ts";
import { contributions, tSquared } from "../statistics/hotelling.ts";
import { channelUnit } from "../terms/channels.ts";
import type { EvidenceItem } from "./rule.ts";
import { mostSpreads } from "./unusual-average.ts";
import { type UnusualModel, type Watched, watched } from "./unusual-model.ts";

/** The channels that are named, and T² with its limit. */
export const unusualEvidence: readonly EvidenceItem[] = [
  ...watched.map((name) => ({ name, unit: channelUnit[name], against: "baseline" as const })),
  { name: "distance", unit: "T²", against: "limit" },
];

/** Channels that hold less than this part of the largest share are not named. */
const namedFrom = 0.3;

/**
 * The channels that contribute most with their clean values, and T² with its limit, from the average deviations of a
 * row; NaN throughout where it was not judged. An average that was cut says less than the reading itself.
 */
export function unusualNumbers(
  model: UnusualModel | null,
  averages: Float64Array,
  { value }: Features,
  row: number,
): readonly number[] {
  if (model === null || Number.isNaN(averages[0]))
    return unusualEvidence.flatMap(() => [Number.NaN, Number.NaN]);
  const { mean, perSpread, hotelling, channels, limit } = model;
  const all = Array.from(averages.subarray(0, mean.length));
  const parts = contributions(hotelling, all);
  const most = Math.max(...parts);
  const numbers = watched.flatMap((channel) => {
    const own = parts.map((part, k) => (channels[k] === channel && part >= namedFrom * most ? part : 0));
    const k = own.indexOf(Math.max(...own));
    if (own[k] === 0) return [Number.NaN, Number.NaN];
    const reading = value[model.signals[k]][row];
    const cut = Math.abs(all[k]) > 0.9 * mostSpreads && !Number.isNaN(reading);
    return [cut ? reading : mean[k] + all[k] / perSpread[k], mean[k]];
  });
  return [...numbers, tSquared(hotelling, all), limit];
}

const nameOf: Readonly<Record<Watched, string>> = {
  motor_current: "current",
  suction_pressure: "suction",
  discharge_pressure: "discharge pressure",
  gas_pressure: "gas pressure",
  flow: "flow",
  gas_flow: "gas flow",
  voltage: "voltage",
  power: "power",
  vibration: "vibration",
};

/** `The running has left its clean pattern: current at 10.2 A, clean 9.3 A (+10.0 %).` */
export function sayUnusual(numbers: readonly number[], _unit: Unit, { against }: Spoken): string {
  const parts = watched.flatMap((channel, k) => {
    const [now, clean] = numbers.slice(2 * k, 2 * k + 2);
    if (Number.isNaN(now)) return [];
    const change = channel === "suction_pressure" || clean === 0 ? "" : ` (${percent(now / clean - 1)})`;
    return [`${nameOf[channel]} at ${against(channel, now, clean).join(", clean ")}${change}`];
  });
  return `The running has left its clean pattern: ${parts.join("; ")}.`;
}

function percent(share: number): string {
  return `${share < 0 ? "−" : "+"}${(100 * Math.abs(share)).toFixed(1)} %`;
}
