import { parse, stringify } from "yaml";
import type { OrderGuess } from "../../acquire/date-order.ts";
import { dateName, timeNames } from "../../acquire/headers.ts";
import type { TimeColumn } from "../../acquire/time-column.ts";
import type { ColumnSource } from "../../fleet/unit.ts";
import { type Channel, channels } from "../../terms/channels.ts";
import { visible } from "../../terms/text.ts";
import type { Guess } from "./guess.ts";

/** A text as YAML writes it inside `{ }` and `[ ]`: in quotes where it would be anything but this text. */
export function scalar(text: string): string {
  const plain = /^[\p{L}\p{N}./][\p{L}\p{N} _./%°³²()-]*$/u.test(text) && text.trim() === text;
  return plain && parse(`[${text}]`)?.[0] === text ? text : JSON.stringify(text);
}

/** A value as YAML in one line, inside a mapping. */
export function inline(value: unknown): string {
  if (typeof value === "string") return scalar(value);
  const text = stringify(value, { collectionStyle: "flow", lineWidth: 0 }).trim();
  return text.replace(/^\[ (.*) \]$/, "[$1]");
}

function sourceText({ column, unit, vacuum, range, scale }: ColumnSource): string {
  const keys = [
    `column: ${scalar(column)}`,
    ...(unit === undefined || unit === "" ? [] : [`unit: ${scalar(unit)}`]),
    ...(vacuum === true ? ["vacuum: true"] : []),
    ...(range === undefined ? [] : [`range: [${range.join(", ")}]`, `scale: ${scaleText(scale)}`]),
  ];
  return keys.length === 1 ? scalar(column) : `{ ${keys.join(", ")} }`;
}

/** Where nobody knows the scale, words stand for it, which the program refuses: no number that looks like one. */
function scaleText(scale: ColumnSource["scale"]): string {
  return scale === undefined ? "[AT LOW END, AT HIGH END]" : `[${scale.join(", ")}]`;
}

const remark = (line: string, text: string): string => `${line.padEnd(46)} # ${visible(text)}`;

/** How the fleet file is to name a log's times; what the program finds by itself is left out. */
export interface TimeHeaders {
  readonly time?: string;
  readonly date?: string;
  readonly dateOrder?: OrderGuess;
}

/** The headers of a log's times that the program does not find by itself. */
export function timeHeaders({ index, date, dateOrder }: TimeColumn, cells: readonly string[]): TimeHeaders {
  const [time = "", dates] = [cells[index], date === undefined ? undefined : cells[date]];
  const own = (header: string, names: readonly string[]) => names.includes(header.trim().toLowerCase());
  const found = dates === undefined ? own(time, timeNames) : own(time, ["time"]) && own(dates, [dateName]);
  return found ? { dateOrder } : { time, date: dates, dateOrder };
}

/** The lines under `columns:` for the columns of one header: those to decide stand behind a #. */
export function columnLines(
  { time, date, dateOrder }: TimeHeaders,
  guesses: readonly Guess[],
): readonly string[] {
  const lines = [
    ...(time === undefined ? [] : [`time: ${scalar(time)}`]),
    ...(date === undefined ? [] : [`date: ${scalar(date)}`]),
  ];
  if (dateOrder !== undefined) lines.push(remark(`time_format: ${dateOrder.order}`, dateOrder.why));
  for (const channel of channels) {
    const placed = guesses.filter((guess) => guess.placed?.channel === channel && !guess.recognised);
    const [first] = placed;
    if (first?.placed === undefined) continue;
    const sources = placed.flatMap(({ placed: one }) => (one === undefined ? [] : [sourceText(one.source)]));
    const value = sources.length === 1 ? sources[0] : `[${sources.join(", ")}]`;
    lines.push(remark(`${channel}: ${value}`, first.why));
  }
  for (const guess of guesses) {
    if (guess.placed === undefined)
      lines.push(`# ${visible(JSON.stringify(guess.header))}: ${visible(guess.why)}`);
    for (const { channel, source, when } of guess.choices)
      lines.push(remark(`# ${choice(channel, source)}`, when));
  }
  return lines;
}

const choice = (channel: Channel, source: ColumnSource): string => `${channel}: ${sourceText(source)}`;

/** Whether anything of a header needs to be written at all. */
export const needsColumns = ({ time }: TimeHeaders, guesses: readonly Guess[]): boolean =>
  time !== undefined || guesses.some(({ placed, recognised }) => placed !== undefined && !recognised);
