import { quoted } from "../fleet/quantity.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { ColumnSource, Unit } from "../fleet/unit.ts";
import { toStored } from "../fleet/units.ts";
import { type Channel, channels, channelUnit } from "../terms/channels.ts";
import { dateName, endings, timeNames } from "./headers.ts";
import type { DateOrder } from "./written-date.ts";

export type Delimiter = "," | ";" | "\t";

/** How one column of a log becomes a signal: `stored = factor · number + offset`, then the vacuum's sign. */
export interface LayoutColumn {
  /** Position in the row, from 0. */
  readonly index: number;
  readonly header: string;
  readonly channel: Channel;
  /** Index of the signal in a batch. */
  readonly signal: number;
  readonly kind: "number" | "status" | "status with fault";
  readonly factor: number;
  readonly offset: number;
  /** `inverted`: a vacuum written as a positive number; `always`: a vacuum however it is signed. */
  readonly vacuum: "no" | "inverted" | "always";
  /** Readings of a 4–20 mA loop in failure (NAMUR NE 43) are missing values. */
  readonly loop: boolean;
  /** The unit it is read in, for people; empty for a status. */
  readonly unit: string;
}

/** A log's columns as its header and the fleet file tell them. */
export interface Layout {
  readonly delimiter: Delimiter;
  readonly header: readonly string[];
  readonly time: number;
  /** Where the dates have a column of their own, for times of the day. */
  readonly date?: number;
  /** Of dates with slashes; undefined where the fleet file does not say. */
  readonly dateOrder?: DateOrder;
  readonly columns: readonly LayoutColumn[];
  /** Headers that no channel takes. */
  readonly ignored: readonly string[];
  /** Mapped columns that the header lacks. */
  readonly lacking: readonly string[];
}

const mostColumns = 1000;

const status: Readonly<Partial<Record<Channel, LayoutColumn["kind"]>>> = {
  ozone: "status with fault",
  run_command: "status",
};

const key = (header: string): string => header.trim().toLowerCase();

type Conversion = Pick<LayoutColumn, "kind" | "factor" | "offset" | "vacuum" | "loop" | "unit">;

function conversion(channel: Channel, unit: string | undefined, vacuum: LayoutColumn["vacuum"]): Conversion {
  const kind = status[channel];
  if (kind !== undefined) return { kind, factor: 1, offset: 0, vacuum: "no", loop: false, unit: "" };
  const stored = channelUnit[channel];
  const to = unit === undefined ? { factor: 1, offset: 0 } : toStored(unit, stored);
  if (to === undefined) throw new RangeError(`${channel}: ${quoted(unit)} is not a unit of ${stored}`);
  return { kind: "number", ...to, vacuum, loop: false, unit: unit ?? stored };
}

/** Throws a RangeError where a mapped unit is not one of the channel's kind. */
function mapped(channel: Channel, source: ColumnSource): Conversion {
  const vacuum = source.vacuum === true ? "inverted" : "no";
  const { range, scale } = source;
  if (range === undefined || scale === undefined) return conversion(channel, source.unit, vacuum);
  const factor = (scale[1] - scale[0]) / (range[1] - range[0]);
  return {
    kind: "number",
    factor,
    offset: scale[0] - factor * range[0],
    vacuum,
    loop: range[0] === 4 && range[1] === 20,
    unit: source.unit ?? "mA",
  };
}

/** The channel and unit that a default header names; undefined where it names none. */
function recognised(header: string): { channel: Channel; as: Conversion } | undefined {
  const name = key(header);
  for (const channel of channels) {
    if (name === channel) return { channel, as: conversion(channel, undefined, "no") };
    if (!name.startsWith(`${channel}_`)) continue;
    const written = name.slice(channel.length + 1);
    // Every object knows a `constructor`, which is no unit.
    const ending = Object.hasOwn(endings[channel], written) ? endings[channel][written] : undefined;
    if (ending === undefined) continue;
    return { channel, as: conversion(channel, ending.unit, ending.vacuum === true ? "always" : "no") };
  }
  return undefined;
}

/** A header's columns for a unit; a sentence where they cannot be used. */
export function layoutOf(header: readonly string[], delimiter: Delimiter, unit: Unit): Layout | string {
  if (header.length > mostColumns)
    return `the header has ${header.length} columns; at most ${mostColumns} are read`;
  const keys = header.map(key);
  const mappedTime = unit.columns.time === undefined ? -1 : keys.indexOf(key(unit.columns.time));
  const time =
    mappedTime >= 0 ? mappedTime : keys.findIndex((k) => (timeNames as readonly string[]).includes(k));
  if (time < 0) {
    const wanted = unit.columns.time === undefined ? "" : ` (no ${quoted(unit.columns.time)} either)`;
    return `no time column in its header ${quoted(header.join(delimiter))}${wanted}; name one time, timestamp or datetime, or map it with columns: { time: … }`;
  }
  const columns: LayoutColumn[] = [];
  const lacking: string[] = [];
  const date = keys.indexOf(unit.columns.date === undefined ? dateName : key(unit.columns.date));
  const hasDate = date >= 0 && date !== time && (unit.columns.date !== undefined || keys[time] === "time");
  if (date < 0 && unit.columns.date !== undefined) lacking.push(unit.columns.date);
  const taken = new Set(hasDate ? [time, date] : [time]);
  const signals = signalsOf(unit);
  for (const channel of channels) {
    for (const [part, source] of (unit.columns.channels[channel] ?? []).entries()) {
      const index = keys.findIndex(
        (k, i) => k === key(source.column) && i !== time && !(hasDate && i === date),
      );
      if (index < 0) {
        lacking.push(source.column);
        continue;
      }
      taken.add(index);
      const signal = signals.findIndex((s) => s.channel === channel && s.part === part);
      columns.push({ index, header: header[index] ?? "", channel, signal, ...mapped(channel, source) });
    }
  }
  for (const [index, name] of header.entries()) {
    if (taken.has(index)) continue;
    const found = recognised(name);
    if (found === undefined || unit.columns.channels[found.channel] !== undefined) continue;
    const signal = channels.indexOf(found.channel);
    if (columns.some((c) => c.signal === signal)) continue;
    taken.add(index);
    columns.push({ index, header: name, channel: found.channel, signal, ...found.as });
  }
  if (columns.length === 0) {
    return `no known channel in its header ${quoted(header.join(delimiter))}; write headers like motor_current_a, or map them with columns: { motor_current: … }`;
  }
  columns.sort((a, b) => a.index - b.index);
  const { timeFormat: dateOrder } = unit.columns;
  return {
    delimiter,
    header,
    time,
    ...(hasDate && { date }),
    dateOrder,
    columns,
    ignored: header.filter((_, i) => !taken.has(i)),
    lacking,
  };
}
