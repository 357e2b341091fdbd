import { z } from "zod";
import { type Channel, channels, channelUnit } from "../terms/channels.ts";
import { takes, told } from "./json-schema.ts";
import { quantity, quoted } from "./quantity.ts";
import { handOn, mapping, oneOf, text } from "./schema.ts";
import type { ColumnMap, ColumnSource } from "./unit.ts";
import { isUnit, type StoredUnit, storedUnits, toStored, unitsOf } from "./units.ts";

const header = text("the column's header");

function storedUnitOf(channel: Channel): StoredUnit {
  return storedUnits.find((unit) => unit === channelUnit[channel]) ?? "";
}

/** Two numbers of a signal's range or scale, low end first or last. */
function ends(end: z.ZodType<number>, example: string) {
  const pair = z.unknown().transform((value, context): readonly [number, number] => {
    if (Array.isArray(value) && value.length === 2) {
      const from = handOn(end, value[0], context);
      const to = handOn(end, value[1], context);
      if (context.issues.length > 0) return z.NEVER;
      if (from !== to) return [from, to];
    }
    context.addIssue({
      code: "custom",
      message: `${quoted(value)} is not two different ends; write ${example}`,
      input: value,
    });
    return z.NEVER;
  });
  return takes(pair, () => z.array(end).length(2));
}

function mapped(channel: Channel): z.ZodType<ColumnSource> {
  const stored = storedUnitOf(channel);
  return mapping({
    column: told(header, "the column's header, in any case"),
    unit: told(
      text(stored === "" ? "none" : stored),
      stored === "" ? "none: a status" : `unit of the numbers in the log: ${unitsOf(stored).join(", ")}`,
    ).optional(),
    vacuum: told(z.boolean(), "a vacuum written as a positive number: counted negative").optional(),
    range: told(ends(quantity(""), "[4, 20]"), "the two ends of a signal, such as [4, 20] mA").optional(),
    scale: told(ends(quantity(stored), "[0, 400]"), "what the ends of the range stand for").optional(),
  }).superRefine((source, context) => {
    const wrong = (key: string, message: string) =>
      context.addIssue({ code: "custom", path: [key], message });
    const { unit, range, scale, vacuum } = source;
    if (unit !== undefined && range !== undefined && !isUnit(unit)) {
      wrong("unit", `${quoted(unit)} is not a unit of a signal; write mA or V`);
    }
    if (unit !== undefined && range === undefined && toStored(unit, stored) === undefined) {
      const known = unitsOf(stored);
      const write = known.length === 0 ? "no unit" : known.join(", ");
      wrong("unit", `${quoted(unit)} is not a unit of ${channel}; write ${write}`);
    }
    if (range !== undefined && scale === undefined) {
      wrong("range", "has no scale beside it; write what its ends stand for, such as scale: [0, 400]");
    }
    if (scale !== undefined && range === undefined) {
      wrong("scale", "has no range beside it; write the signal's ends, such as range: [4, 20]");
    }
    if (vacuum === true && channel !== "suction_pressure") {
      wrong("vacuum", "only suction_pressure may be a vacuum; leave it out");
    }
  });
}

function sources(channel: Channel): z.ZodType<readonly ColumnSource[]> {
  const source = mapped(channel);
  const read = z.unknown().transform((value, context): ColumnSource => {
    if (typeof value === "object" && value !== null && !Array.isArray(value))
      return handOn(source, value, context);
    return { column: handOn(header, value, context) };
  });
  const one = takes(read, () => z.union([header, source]));
  const several = z.array(one).min(1);
  const list = z
    .unknown()
    .transform((value, context): readonly ColumnSource[] =>
      Array.isArray(value) ? handOn(several, value, context) : [handOn(one, value, context)],
    );
  return takes(list, () => z.union([header, source, several]));
}

/** Which columns of a log become which channels. */
export const columns: z.ZodType<ColumnMap> = mapping({
  time: told(header, "header of the time column").optional(),
  date: told(header, "header of the dates, where they have a column of their own").optional(),
  time_format: told(
    oneOf(["DD/MM/YYYY", "MM/DD/YYYY"]),
    "which of the first two numbers of a date with slashes is the day",
    "DD/MM/YYYY",
  ).optional(),
  ...Object.fromEntries(
    channels.map((channel) => [
      channel,
      told(
        sources(channel),
        `a header, { column, unit, … }, or a list of either${channelUnit[channel] === "" ? "" : `; stored in ${channelUnit[channel]}`}`,
      ).optional(),
    ]),
  ),
}).transform(
  ({ time, date, time_format, ...mappedChannels }): ColumnMap => ({
    time,
    ...(date !== undefined && { date }),
    ...(time_format && { timeFormat: time_format }),
    channels: Object.fromEntries(Object.entries(mappedChannels).filter(([, value]) => value !== undefined)),
  }),
);
