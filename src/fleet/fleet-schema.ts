import { Temporal } from "temporal-polyfill";
import { z } from "zod";
import { day } from "../terms/time.ts";
import { displays } from "./display.ts";
import { isMapping } from "./merge.ts";
import { notify } from "./notify-schema.ts";
import { duration, quantity, quoted } from "./quantity.ts";
import { parseWindow } from "./schedule-schema.ts";
import { handOn, mapping, oneOf, text, understood } from "./schema.ts";
import type { Site } from "./unit.ts";

/** A name of the IANA time zone database, in that database's spelling; undefined where it has none such. */
function parseZone(name: string): string | undefined {
  if (!/^[a-z]/i.test(name)) return undefined;
  try {
    return Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(name).timeZoneId;
  } catch {
    return undefined;
  }
}

const position = z.unknown().transform((value, context): readonly [number, number] => {
  if (Array.isArray(value) && value.length === 2) {
    return [
      handOn(quantity("", { min: -90, max: 90 }), value[0], context),
      handOn(quantity("", { min: -180, max: 180 }), value[1], context),
    ];
  }
  const message = `${quoted(value)} is not a position; write [latitude, longitude] in degrees, such as [41.88, -93.10]`;
  context.addIssue({ code: "custom", message, input: value });
  return z.NEVER;
});

const word = z
  .union([z.string(), z.number(), z.boolean()], { error: "write one line of text" })
  .transform(String);

const site = mapping({
  position: position.optional(),
  customer: text("the customer's name").optional(),
  access: text("how to get to it").optional(),
  working_hours: understood(
    (hours) => (parseWindow(hours) === undefined ? undefined : hours),
    "a stretch of the day",
    "07:00-18:00",
  ).optional(),
  ozone_permission: z.record(z.string(), word).optional(),
}).transform(
  (written): Omit<Site, "name"> => ({
    position: written.position,
    customer: written.customer,
    access: written.access,
    workingHours: written.working_hours,
    ozonePermission: written.ozone_permission,
  }),
);

/** A record would drop this one name without a word. */
const siteNames = z.unknown().superRefine((value, context) => {
  if (isMapping(value) && Object.hasOwn(value, "__proto__")) {
    const message = "'__proto__' cannot be a site's name; write another";
    context.addIssue({ code: "custom", path: ["__proto__"], message });
  }
});

/** The fleet file but for what `defaults` reach into and what needs the units: those are read after it. */
export const fleetSchema = mapping({
  fleet: text("the fleet's name").optional(),
  timezone: understood(parseZone, "a time zone", "its IANA name, such as America/Chicago").default("UTC"),
  display: oneOf(displays).default("si"),
  logs: text("a folder").default("."),
  follow: oneOf(["watching", "polling"]).default("watching"),
  state: text("a folder").optional(),
  state_group: text("a group's name").optional(),
  order_within: duration({ min: 0, max: day }).default(0),
  defaults: z.unknown().optional(),
  notify: notify.optional(),
  sites: z.preprocess((value) => value ?? {}, siteNames.pipe(z.record(z.string(), site))),
  units: z.unknown().optional(),
  services: z.unknown().optional(),
});
