import { localClock } from "../fleet/local-clock.ts";
import { toStored } from "../fleet/units.ts";
import { type Channel, channelUnit, type OzoneState } from "../terms/channels.ts";
import type { Sample } from "./sensors.ts";

/** One column of a log: how a logger names, converts and rounds a channel. */
export interface LogColumn {
  readonly header: string;
  readonly channel: Channel;
  /** Unit of the numbers written; undefined: the channel's own. */
  readonly unit?: string;
  /** A vacuum is written as a positive number. */
  readonly vacuum?: boolean;
  /** A 4–20 mA loop that stands for these two values of the channel. */
  readonly loop?: readonly [number, number];
  readonly digits: number;
}

/** How a logger writes: its dialect of CSV, of time and of numbers. */
export interface LogFormat {
  readonly delimiter: "," | ";" | "\t";
  readonly decimalComma: boolean;
  readonly lineEnd: "\n" | "\r\n";
  readonly byteOrderMark: boolean;
  readonly time: "utc" | "offset" | "local" | "unix seconds";
  readonly timeHeader: string;
  readonly timezone: string;
  readonly columns: readonly LogColumn[];
}

/** The header line, with the byte-order mark where the logger writes one. */
export function headerLine(format: LogFormat): string {
  const cells = [format.timeHeader, ...format.columns.map((column) => column.header)];
  return `${format.byteOrderMark ? "\uFEFF" : ""}${cells.join(format.delimiter)}${format.lineEnd}`;
}

/** Writes readings as lines; `shiftMs` is added to each reading's time. */
export function lineWriter(format: LogFormat, shiftMs = 0): (sample: Sample) => string {
  const time = timeWriter(format);
  const cells = format.columns.map((column) => cellWriter(column, format.decimalComma));
  return (sample) => {
    const written = cells.map((cell) => cell(sample));
    return `${[time(sample.timeMs + shiftMs), ...written].join(format.delimiter)}${format.lineEnd}`;
  };
}

function cellWriter(column: LogColumn, decimalComma: boolean): (sample: Sample) => string {
  const { channel, digits } = column;
  const convert = conversion(column);
  return (sample) => {
    const value: number | OzoneState | undefined = sample.values[channel];
    if (value === undefined) return "";
    if (typeof value === "string") return value;
    const text = (convert(value) + 0).toFixed(digits);
    const plain = /^-0\.?0*$/.test(text) ? text.slice(1) : text;
    return decimalComma ? plain.replace(".", ",") : plain;
  };
}

function conversion(column: LogColumn): (stored: number) => number {
  const { channel, unit, vacuum, loop } = column;
  if (loop !== undefined) {
    const [low, high] = loop;
    return (stored) => 4 + (16 * (stored - low)) / (high - low);
  }
  if (unit === undefined) return (stored) => stored;
  const to = toStored(unit, channelUnit[channel]);
  if (to === undefined) throw new RangeError(`${unit} is no unit of ${channel}`);
  const sign = vacuum === true ? -1 : 1;
  return (stored) => (sign * (stored - to.offset)) / to.factor;
}

/** Writes an instant in one of the forms that loggers use. */
export function timeWriter(format: Pick<LogFormat, "time" | "timezone">): (timeMs: number) => string {
  if (format.time === "unix seconds") return (timeMs) => String(Math.floor(timeMs / 1000));
  if (format.time === "utc") return (timeMs) => `${wallText(timeMs)}Z`;
  const local = localClock(format.timezone);
  if (format.time === "local") return (timeMs) => wallText(local(timeMs)).replace("T", " ");
  return (timeMs) => `${wallText(local(timeMs))}${offsetText(local(timeMs) - timeMs)}`;
}

function wallText(timeMs: number): string {
  return new Date(timeMs).toISOString().slice(0, 19);
}

/** `-05:00` of an offset in ms. */
function offsetText(offsetMs: number): string {
  const minutes = Math.abs(offsetMs) / 60_000;
  const part = (x: number) => String(Math.floor(x)).padStart(2, "0");
  return `${offsetMs < 0 ? "-" : "+"}${part(minutes / 60)}:${part(minutes % 60)}`;
}
