/** The channels a log may carry, in the order in which every batch holds them. */
export const channels = [
  "motor_current",
  "motor_temperature",
  "suction_pressure",
  "discharge_pressure",
  "gas_pressure",
  "ozone",
  "water_temperature",
  "ambient_temperature",
  "flow",
  "gas_flow",
  "voltage",
  "power",
  "vibration",
  "water_level",
  "ozone_in_air",
  "run_command",
] as const;

export type Channel = (typeof channels)[number];

/** What a skid's log is expected to carry; the others are optional. */
export const mainChannels = [
  "motor_current",
  "motor_temperature",
  "suction_pressure",
  "discharge_pressure",
  "gas_pressure",
  "ozone",
] as const satisfies readonly Channel[];

/** Index of each channel's first column in a batch. */
export const channelIndex = Object.fromEntries(channels.map((c, i) => [c, i])) as Readonly<
  Record<Channel, number>
>;

/** Stored unit of each channel; `""` for a status (ozone: 0 off, 1 on, 2 fault; run_command: 0 off, 1 on). */
export const channelUnit: Readonly<Record<Channel, string>> = {
  motor_current: "A",
  motor_temperature: "°C",
  suction_pressure: "kPa",
  discharge_pressure: "kPa",
  gas_pressure: "kPa",
  ozone: "",
  water_temperature: "°C",
  ambient_temperature: "°C",
  flow: "L/min",
  gas_flow: "L/min",
  voltage: "V",
  power: "W",
  vibration: "g",
  water_level: "m",
  ozone_in_air: "ppm",
  run_command: "",
};

/** How the ozone channel's states are stored. */
export const ozoneStates = ["off", "on", "fault"] as const;
export type OzoneState = (typeof ozoneStates)[number];
