import { z } from "zod";
import { type Channel, channelUnit } from "../terms/channels.ts";
import { takes } from "./json-schema.ts";
import { quantity } from "./quantity.ts";
import { inUnit } from "./quantity-unit.ts";
import { handOn, mapping, text, understood } from "./schema.ts";
import { withSign } from "./suction-gauge.ts";
import type { Unit } from "./unit.ts";
import type { StoredUnit } from "./units.ts";

/** What the gauges of a skid show when it is handed over; weather and water are not of its own making. */
const recorded = [
  "motor_current",
  "motor_temperature",
  "suction_pressure",
  "discharge_pressure",
  "gas_pressure",
  "flow",
  "gas_flow",
  "voltage",
  "power",
] as const satisfies readonly Channel[];

/** `2026-05-01`, where there is such a day. */
function parseDate(text: string): string | undefined {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return undefined;
  const ms = Date.parse(`${text}T00:00:00Z`);
  return !Number.isNaN(ms) && new Date(ms).toISOString().startsWith(text) ? text : undefined;
}

type Values = NonNullable<Unit["commissioning"]>["values"];

/** A channel's quantity; mercury at the suction is a vacuum. */
function gauge(channel: Channel): z.ZodType<number> {
  const unit = channelUnit[channel] as StoredUnit;
  const read = z
    .unknown()
    .transform((value, context) =>
      handOn(quantity(unit), typeof value === "string" ? withSign(channel, value) : value, context),
    );
  return inUnit(
    takes(read, () => z.union([z.number(), z.string()])),
    unit,
  );
}

const shape = Object.fromEntries(recorded.map((channel) => [channel, gauge(channel).optional()])) as Record<
  (typeof recorded)[number],
  z.ZodOptional<z.ZodType<number>>
>;

/** A unit's commissioning record: the day, who read them, and what its gauges showed, in stored units. */
export const commissioning = mapping({
  on: understood(parseDate, "a day", "2026-05-01").optional(),
  by: text("the name of whoever read the gauges").optional(),
  ...shape,
}).transform(({ on, by, ...values }, context): NonNullable<Unit["commissioning"]> => {
  const given = Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined));
  if (Object.keys(given).length === 0) {
    const message = "it holds no reading; write at least one, such as motor_current: 9.1 A";
    context.addIssue({ code: "custom", message });
    return z.NEVER;
  }
  return { on, ...(by !== undefined && { by }), values: given as Values };
});
