import { Temporal } from "temporal-polyfill";
import { z } from "zod";
import { day } from "../terms/time.ts";
import { displays } from "./display.ts";
import { takes, told } from "./json-schema.ts";
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

const position = takes(
  z.unknown().transform((value, context): readonly [number, number] => {
    if (Array.isArray(value) && value.length === 2) {
      return [
        handOn(quantity("", { min: -90, max: 90 }), value[0], context),
        handOn(quantity("", { min: -180, max: 180 }), value[1], context),
      ];
    }
    const message = `${quoted(value)} is not a position; write [latitude, longitude] in degrees, such as [41.88, -93.10]`;
    context.addIssue({ code: "custom", message, input: value });
    return z.NEVER;
  }),
  () => z.array(quantity("")).length(2),
);

const word = z
  .union([z.string(), z.number(), z.boolean()], { error: "write one line of text" })
  .transform(String);

const site = mapping({
  position: told(position, "[latitude, longitude] in degrees", [41.88, -93.1]).optional(),
  customer: told(text("the customer's name"), "whose it is").optional(),
  access: told(text("how to get to it"), "how to get to it").optional(),
  working_hours: told(
    understood(
      (hours) => (parseWindow(hours) === undefined ? undefined : hours),
      "a stretch of the day",
      "07:00-18:00",
    ),
    "when people may be there",
    "07:00-18:00",
  ).optional(),
  ozone_permission: told(
    z.record(z.string(), word),
    "what is on record of the permission to feed ozone there",
  ).optional(),
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

const sites = takes(
  z.preprocess((value) => value ?? {}, siteNames.pipe(z.record(z.string(), site))),
  () => z.record(z.string(), site),
);

/** The fleet file but for what `defaults` reach into and what needs the units: those are read after it. */
export const fleetSchema = mapping({
  fleet: told(text("the fleet's name"), "the fleet's name, on every screen", "Larkmoor ponds").optional(),
  timezone: told(
    understood(parseZone, "a time zone", "its IANA name, such as America/Chicago"),
    "for log times without an offset, for runs and season, and on the screen",
    "America/Chicago",
  ).default("UTC"),
  display: told(oneOf(displays), "units that people see: si or us", "us").default("si"),
  logs: told(text("a folder"), "the folder of the logs, relative to this file", "logs").default("."),
  follow: told(
    oneOf(["watching", "polling"]),
    "polling: the log folder is looked through every second",
    "polling",
  ).default("watching"),
  state: told(
    text("a folder"),
    "the state folder, which collect needs; relative to this file",
    "state",
  ).optional(),
  state_group: told(text("a group's name"), "a group of users that shares the state folder").optional(),
  order_within: told(
    duration({ min: 0, max: day }),
    "how late a row may be and still be judged in order; alarms come that much later",
    "30 s",
  ).default(0),
  defaults: z.unknown().optional(),
  notify: told(notify, "how people are told of alarms").optional(),
  sites: told(sites, "what is known of each site, by its name"),
  units: z.unknown().optional(),
  services: z.unknown().optional(),
});
