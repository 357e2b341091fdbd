import { type Channel, channelUnit } from "../terms/channels.ts";
import { toStored } from "./units.ts";

/** Systems of units that people may choose to see. */
export const displays = ["si", "us"] as const;
export type Display = (typeof displays)[number];

/** Units that differ under `display: us`. A suction is read in inches of mercury, as its gauge is (common practice). */
const usUnit: Readonly<Partial<Record<Channel, string>>> = {
  motor_temperature: "°F",
  water_temperature: "°F",
  ambient_temperature: "°F",
  suction_pressure: "inHg",
  discharge_pressure: "psi",
  gas_pressure: "psi",
  flow: "gpm",
  water_level: "ft",
};

/** Decimals that a reading on a skid's instruments bears (common practice). */
const decimalsOf: Readonly<Record<string, number>> = {
  A: 1,
  "°C": 1,
  "°F": 1,
  kPa: 1,
  psi: 1,
  inHg: 1,
  "L/min": 1,
  gpm: 1,
  V: 1,
  W: 0,
  g: 2,
  m: 2,
  ft: 2,
  ppm: 3,
};

/** Decimals in a row of many units, where a number is for a glance: no finer than the noise of its gauge (house choice). */
const rowDecimalsOf: Readonly<Record<string, number>> = { ...decimalsOf, "°C": 0, "°F": 0, kPa: 0 };

const decimalsOfChannel: Readonly<Partial<Record<string, number>>> = { "gas_pressure psi": 2 };

/** Unit in which people see a channel. */
export function displayUnit(channel: Channel, display: Display): string {
  return (display === "us" ? usUnit[channel] : undefined) ?? channelUnit[channel];
}

/** Decimals of a channel in a row of many units. */
export function rowDecimals(channel: Channel, display: Display): number {
  return rowDecimalsOf[displayUnit(channel, display)] ?? 0;
}

interface Shown {
  readonly value: number;
  readonly unit: string;
  readonly decimals: number;
}

/**
 * A channel's value as people see it: number, unit and the decimals worth showing. `value` is in the
 * stored unit; NaN stays NaN; a vacuum stays negative. A status (ozone, run command) is left as it is.
 */
export function displayed(channel: Channel, value: number, display: Display): Shown {
  const unit = displayUnit(channel, display);
  const decimals = decimalsOfChannel[`${channel} ${unit}`] ?? decimalsOf[unit] ?? 0;
  const conversion = unit === channelUnit[channel] ? undefined : toStored(unit, channelUnit[channel]);
  if (conversion === undefined) return { value, unit, decimals };
  return { value: (value - conversion.offset) / conversion.factor, unit, decimals };
}

/** Rounded, without zeros at the end. */
const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** How numbers are said in a sentence: no finer than an instrument shows them, with their unit. */
export interface Spoken {
  /** A channel's value, given in its stored unit. */
  value(channel: Channel, stored: number): string;
  /** Two values that are held against each other, in as many digits as tell them apart; of one channel, or of two with one unit. */
  against(channel: Channel, stored: number, other: number, otherChannel?: Channel): readonly [string, string];
  /** A difference of temperatures, given in K. */
  difference(kelvin: number): string;
  /** A length or a head, given in m. */
  length(metres: number): string;
}

/** So many decimals more than an instrument shows tell two values apart; what is nearer is alike. */
const finest = 3;

/** Numbers in the units of `display`. */
export function spoken(display: Display): Spoken {
  const said = ({ value, unit }: Shown, decimals: number): string => `${rounded(value, decimals)} ${unit}`;
  return {
    value(channel, stored) {
      const shown = displayed(channel, stored, display);
      return said(shown, shown.decimals);
    },
    against(channel, stored, other, otherChannel = channel) {
      const [one, two] = [displayed(channel, stored, display), displayed(otherChannel, other, display)];
      const own = [said(one, one.decimals), said(two, two.decimals)] as const;
      const coarser = Math.min(one.decimals, two.decimals);
      if (said(one, coarser) !== said(two, coarser)) return own;
      for (let decimals = coarser + 1; decimals <= coarser + finest; decimals++) {
        const pair = [said(one, decimals), said(two, decimals)] as const;
        if (pair[0] !== pair[1]) return pair;
      }
      return own;
    },
    difference: (kelvin) => (display === "us" ? `${rounded(kelvin * 1.8, 1)} °F` : `${rounded(kelvin, 1)} K`),
    length: (metres) => (display === "us" ? `${rounded(metres / 0.3048, 1)} ft` : `${rounded(metres, 1)} m`),
  };
}
