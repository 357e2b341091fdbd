import type { ReadingBatch } from "../../src/terms/batch.ts";
import { type Channel, channels } from "../../src/terms/channels.ts";

const defaultHeaders: Readonly<Partial<Record<Channel, string>>> = {
  motor_current: "motor_current_a",
  motor_temperature: "motor_temperature_c",
  suction_pressure: "suction_pressure_kpa",
  discharge_pressure: "discharge_pressure_kpa",
  gas_pressure: "gas_pressure_kpa",
  ozone: "ozone",
  ambient_temperature: "ambient_temperature_c",
  run_command: "run_command",
};

/** How a logger writes. */
export interface Dialect {
  readonly delimiter: "," | ";" | "\t";
  readonly decimalComma: boolean;
  readonly lineEnd: "\n" | "\r\n";
  readonly byteOrderMark: boolean;
  readonly upperCase: boolean;
  readonly time: "RFC 3339" | "Unix seconds";
}

const usual: Dialect = {
  delimiter: ",",
  decimalComma: false,
  lineEnd: "\n",
  byteOrderMark: false,
  upperCase: false,
  time: "RFC 3339",
};

/** A batch as the text of a log, a row a reading, numbers to three decimals. */
export function logText(batch: ReadingBatch, change: Partial<Dialect> = {}): string {
  const dialect = { ...usual, ...change };
  const present = channels.flatMap((channel, i) => {
    const header = defaultHeaders[channel];
    const column = batch.columns[i];
    return header === undefined || column === undefined ? [] : [{ channel, header, column }];
  });
  const header = ["time", ...present.map((p) => p.header)].join(dialect.delimiter);
  const lines = [dialect.upperCase ? header.toUpperCase() : header];
  for (let row = 0; row < batch.rows; row++) {
    const t = batch.timeMs[row];
    const time = dialect.time === "Unix seconds" ? String(t / 1000) : new Date(t).toISOString();
    const cells = present.map(({ channel, column }) => {
      const x = column[row];
      if (Number.isNaN(x)) return "";
      if (channel === "ozone") return ["off", "on", "fault"][x];
      const text = String(Number(x.toFixed(3)));
      return dialect.decimalComma ? text.replace(".", ",") : text;
    });
    lines.push([time, ...cells].join(dialect.delimiter));
  }
  return `${dialect.byteOrderMark ? "\ufeff" : ""}${lines.join(dialect.lineEnd)}${dialect.lineEnd}`;
}
