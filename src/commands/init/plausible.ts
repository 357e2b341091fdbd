import { toStored } from "../../fleet/units.ts";
import { type Channel, channelUnit } from "../../terms/channels.ts";

/**
 * What a channel of such a skid reads while it runs, stored unit: the larger of its readings, by amount, lies within.
 * House choices, wide: an outlet of 15 or 20 A feeds the motor, a self-priming pump lifts a few metres and gives a few bar.
 */
const running: Readonly<Partial<Record<Channel, readonly [number, number]>>> = {
  motor_current: [0.5, 60],
  motor_temperature: [15, 130],
  water_temperature: [0, 45],
  ambient_temperature: [-40, 55],
  suction_pressure: [3, 95],
  discharge_pressure: [25, 600],
  gas_pressure: [2, 400],
  flow: [4, 500],
  gas_flow: [0.1, 100],
  voltage: [20, 500],
  power: [40, 15_000],
  vibration: [0.001, 30],
  water_level: [0.05, 30],
  ozone_in_air: [0, 20],
};

/** Units that a header may leave out, the likelier first; those of feet and gallons stand last. */
const leftOut: Readonly<Partial<Record<Channel, readonly string[]>>> = {
  motor_current: ["A", "mA"],
  motor_temperature: ["degC", "degF"],
  water_temperature: ["degC", "degF"],
  ambient_temperature: ["degC", "degF"],
  suction_pressure: ["kPa", "bar", "mbar", "psi", "inHg"],
  discharge_pressure: ["kPa", "bar", "mbar", "psi"],
  gas_pressure: ["kPa", "mbar", "bar", "psi"],
  flow: ["L/min", "m3/h", "gpm"],
  gas_flow: ["L/min", "cfm"],
  voltage: ["V"],
  power: ["W", "kW"],
  vibration: ["g"],
  water_level: ["m", "ft"],
  ozone_in_air: ["ppm"],
};

/** Units in which a channel's largest reading (by amount) is one of a running skid, the likelier first. */
export function plausibleUnits(channel: Channel, largest: number): readonly string[] {
  const range = running[channel];
  const units = leftOut[channel] ?? [];
  if (range === undefined) return units;
  return units.filter((unit) => {
    const to = toStored(unit, channelUnit[channel]);
    if (to === undefined) return false;
    const value = largest * to.factor + to.offset;
    return value >= range[0] && value <= range[1];
  });
}

/** Whether numbers in a unit may be such a channel's at all. */
export function isPlausible(channel: Channel, largest: number, unit: string): boolean {
  const range = running[channel];
  const to = toStored(unit, channelUnit[channel]);
  if (range === undefined || to === undefined) return true;
  const value = largest * to.factor + to.offset;
  return value >= range[0] / 10 && value <= range[1] * 2;
}
