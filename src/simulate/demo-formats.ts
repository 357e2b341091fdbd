import type { LogColumn, LogFormat } from "./log-format.ts";
import { demoTimezone } from "./recorded-day.ts";

const metricColumns: readonly LogColumn[] = [
  { header: "motor_current_a", channel: "motor_current", digits: 2 },
  { header: "motor_temperature_c", channel: "motor_temperature", digits: 1 },
  { header: "suction_pressure_kpa", channel: "suction_pressure", digits: 1 },
  { header: "discharge_pressure_kpa", channel: "discharge_pressure", digits: 1 },
  { header: "gas_pressure_kpa", channel: "gas_pressure", digits: 1 },
  { header: "ozone", channel: "ozone", digits: 0 },
];

/** The default header, times in UTC. */
const plain: LogFormat = {
  delimiter: ",",
  decimalComma: false,
  lineEnd: "\n",
  byteOrderMark: false,
  time: "utc",
  timeHeader: "time",
  timezone: demoTimezone,
  columns: metricColumns,
};

/** The loggers of the demo fleet: how each kind writes its log. */
export const demoFormats = {
  plain,
  withOffset: { ...plain, time: "offset" },
  withoutOzone: { ...plain, columns: metricColumns.filter((column) => column.channel !== "ozone") },
  withWeather: {
    ...plain,
    columns: [
      ...metricColumns,
      { header: "ambient_temperature_c", channel: "ambient_temperature", digits: 1 },
      { header: "water_temperature_c", channel: "water_temperature", digits: 1 },
      { header: "voltage", channel: "voltage", digits: 1 },
    ],
  },
  withCommand: {
    ...plain,
    columns: [...metricColumns, { header: "run_command", channel: "run_command", digits: 0 }],
  },
  usUnits: {
    ...plain,
    time: "local",
    timeHeader: "Timestamp",
    columns: [
      { header: "Motor_Current_A", channel: "motor_current", digits: 2 },
      { header: "Motor_Temperature_F", channel: "motor_temperature", unit: "degF", digits: 1 },
      { header: "Suction_Pressure_inHg", channel: "suction_pressure", unit: "inHg", vacuum: true, digits: 2 },
      { header: "Discharge_Pressure_psi", channel: "discharge_pressure", unit: "psi", digits: 2 },
      { header: "Gas_Pressure_psi", channel: "gas_pressure", unit: "psi", digits: 2 },
      { header: "Ozone", channel: "ozone", digits: 0 },
    ],
  },
  decimalComma: {
    ...plain,
    delimiter: ";",
    decimalComma: true,
    lineEnd: "\r\n",
    byteOrderMark: true,
    time: "local",
    timeHeader: "datetime",
  },
  ownHeaders: {
    ...plain,
    time: "unix seconds",
    timeHeader: "epoch",
    columns: [
      { header: "Amps", channel: "motor_current", digits: 2 },
      { header: "Shell", channel: "motor_temperature", unit: "degF", digits: 1 },
      { header: "Vac", channel: "suction_pressure", unit: "psi", vacuum: true, digits: 2 },
      { header: "Head", channel: "discharge_pressure", unit: "psi", digits: 2 },
      { header: "Feed", channel: "gas_pressure", loop: [0, 400], digits: 3 },
      { header: "Cell", channel: "ozone", digits: 0 },
    ],
  },
} as const satisfies Readonly<Record<string, LogFormat>>;
