import type { Channel } from "../terms/channels.ts";

/** Names of the time column, in any case. */
export const timeNames = ["time", "timestamp", "datetime"] as const;

/** Name of the column of dates beside one of `time`, in any case. */
export const dateName = "date";

/** An ending of a default header: its unit as the fleet's units know it. */
export interface Ending {
  readonly unit: string;
  /** A vacuum, so counted negative. */
  readonly vacuum?: true;
}

const celsius: Readonly<Record<string, Ending>> = { c: { unit: "degC" }, f: { unit: "degF" } };
const flow: Readonly<Record<string, Ending>> = { lpm: { unit: "L/min" }, gpm: { unit: "gpm" } };
const pressure: Readonly<Record<string, Ending>> = {
  kpa: { unit: "kPa" },
  bar: { unit: "bar" },
  psi: { unit: "psi" },
};

/** The endings that a default header of each channel may have, after the channel's name and `_`. */
export const endings: Readonly<Record<Channel, Readonly<Record<string, Ending>>>> = {
  motor_current: { a: { unit: "A" }, ma: { unit: "mA" } },
  motor_temperature: celsius,
  suction_pressure: { ...pressure, inhg: { unit: "inHg", vacuum: true } },
  discharge_pressure: pressure,
  gas_pressure: { ...pressure, mbar: { unit: "mbar" }, inh2o: { unit: "inH2O" } },
  ozone: {},
  water_temperature: celsius,
  ambient_temperature: celsius,
  flow,
  gas_flow: flow,
  voltage: { v: { unit: "V" } },
  power: { w: { unit: "W" }, kw: { unit: "kW" } },
  vibration: { g: { unit: "g" } },
  water_level: { m: { unit: "m" }, ft: { unit: "ft" } },
  ozone_in_air: { ppm: { unit: "ppm" } },
  run_command: {},
};
