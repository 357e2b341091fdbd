import { z } from "zod";
import { alarmNames, priorities } from "../../src/terms/alarms.ts";
import { channels } from "../../src/terms/channels.ts";

/** RFC 3339 in UTC with milliseconds. */
const time = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);

const fourDigits = z.number().refine((x) => Number(x.toPrecision(4)) === x, "four significant digits");

const evidence = z.record(
  z.string(),
  z.strictObject({
    value: z.union([fourDigits, z.string()]),
    unit: z.string(),
    baseline: fourDigits.optional(),
    limit: fourDigits.optional(),
  }),
);

const lineOfText = z
  .string()
  .min(1)
  .regex(/^[^\n]*$/);

/** What `check --json` prints, and nothing else. */
export const statusShape = z.strictObject({
  at: time,
  fleet: z.string(),
  worst: z.enum(["high", "medium", "low"]).nullable(),
  units: z.array(
    z.strictObject({
      id: z.string(),
      site: z.string().nullable(),
      state: z.enum(["running", "priming", "stopped", "under service", "laid up", "no readings"]),
      since: time.nullable(),
      ground_fault: z
        .strictObject({ test: z.literal("did not trip"), at: time, by: z.string().nullable() })
        .nullable(),
      readings: z.partialRecord(
        z.enum(channels),
        z.union([z.number(), z.enum(["on", "off", "fault"])]).nullable(),
      ),
      last_reading: time.nullable(),
      baseline: z.enum(["confirmed", "provisional"]).nullable(),
      /** Why the unit cannot be read; an added key. */
      problem: z.string().nullable(),
      /** Which alarms cannot be judged; an added key. */
      not_judged: z.array(
        z.strictObject({ alarm: z.enum(alarmNames), why: lineOfText, lacks: z.array(z.string()) }),
      ),
      alarms: z.array(
        z.strictObject({
          alarm: z.enum(alarmNames),
          priority: z.enum(priorities),
          since: time,
          state: z.enum([
            "active-unacknowledged",
            "active-acknowledged",
            "returned-unacknowledged",
            "shelved",
            "suppressed",
            "out-of-service",
          ]),
          message: lineOfText,
          evidence,
        }),
      ),
    }),
  ),
});

/** One line of `replay --events`. */
const eventShape = z.strictObject({
  time,
  unit: z.string(),
  seq: z.int().positive(),
  alarm: z.enum(alarmNames),
  event: z.enum(["raised", "cleared", "priority-changed", "suppressed", "unsuppressed"]),
  priority: z.enum(priorities),
  since: time,
  by: z.enum([...alarmNames, "service"]).optional(),
  message: lineOfText,
  evidence,
});

export type EventLine = z.output<typeof eventShape>;

/** The events in what `replay --events -` wrote, each line checked; throws where one has another shape. */
export function eventsIn(text: string): EventLine[] {
  if (text !== "" && !text.endsWith("\n")) throw new Error("the last line is not ended");
  return text
    .split("\n")
    .slice(0, -1)
    .map((line) => eventShape.parse(JSON.parse(line)));
}
