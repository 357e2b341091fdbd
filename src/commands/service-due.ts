import type { Booking } from "../advise/upkeep/due.ts";
import type { SeasonWork } from "../advise/upkeep/season.ts";
import { noTripWords } from "../dashboard/found-words.ts";
import { localDate, moment } from "../dashboard/local-time.ts";
import { openWorks, stopsAhead } from "../fleet/services.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import { localTimes } from "../report/local.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { age, day, hour, iso } from "../terms/time.ts";
import { print } from "./context.ts";
import { groundFaultJson } from "./found-json.ts";
import { serialAt } from "./service-records.ts";
import { type FleetDue, readDue, type UnitDue } from "./service-upkeep.ts";
import { table } from "./table.ts";
import { wrapped } from "./wrapped.ts";

export interface DueOptions {
  readonly json?: boolean;
  readonly state?: string;
}

/** `service due`: what is begun, planned and due at each unit, by site. */
export async function due(fleetPath: string | undefined, options: DueOptions): Promise<number> {
  const read = await readDue(fleetPath, options);
  if (options.json) print(jsonLine(dueJson(read)));
  else for (const line of dueLines(read)) print(line);
  return 0;
}

const noSite = "without a site";

/** Units by site, the site with the first work to do first; those without a site last. */
export function bySite(units: readonly UnitDue[]): readonly (readonly [string, readonly UnitDue[]])[] {
  const sites = Map.groupBy(units, ({ unit }) => unit.site ?? noSite);
  const firstMs = ([name, units]: readonly [string, readonly UnitDue[]]): number =>
    name === noSite
      ? Number.POSITIVE_INFINITY
      : units.some(({ view }) => view.found?.noTrip !== undefined)
        ? Number.NEGATIVE_INFINITY
        : Math.min(...units.flatMap(({ bookings }) => bookings.map(({ dueMs }) => dueMs)));
  return [...sites].toSorted((a, b) => {
    const [first, second] = [firstMs(a), firstMs(b)];
    return first === second ? 0 : first - second;
  });
}

function dueLines({ fleet, units, nowMs }: FleetDue): string[] {
  const lines: string[] = [];
  for (const [site, there] of bySite(units)) {
    const said = there.flatMap((one) => standingLines(one, nowMs, fleet.timezone));
    const booked = there
      .flatMap(({ unit, bookings }) => bookings.map((booking) => ({ id: unit.id, booking })))
      .toSorted((a, b) => a.booking.dueMs - b.booking.dueMs)
      .map(({ id, booking }) => [
        `  ${visible(id)}`,
        booking.work,
        when(booking.dueMs, nowMs, fleet.timezone),
        because(booking, fleet.timezone),
      ]);
    if (said.length + booked.length === 0) continue;
    lines.push(visible(site), ...said.flatMap((line) => wrapped(line, "  ")), ...table(booked, 4));
  }
  return lines.length > 0 ? lines : ["no service is begun, planned or on record, and no reading is known"];
}

/** What is begun, planned, or not as the fleet file says. */
function standingLines({ unit, records, season, view }: UnitDue, nowMs: number, timezone: string): string[] {
  const id = visible(unit.id);
  const serial = serialAt(records, unit.serial);
  const at = (timeMs: number): string => moment(timeMs, nowMs, timezone);
  const { noTrip } = view.found ?? {};
  return [
    ...(noTrip === undefined ? [] : [`${id}  NOW  ground-fault device ${noTripWords(noTrip, at)}`]),
    ...openWorks(records, nowMs).map(
      ({ work, atMs, untilMs }) =>
        `${id}  ${work} since ${at(atMs)}${untilMs === undefined ? "" : `, ends by itself at ${at(untilMs)}`}`,
    ),
    ...stopsAhead(records, nowMs).map(
      ({ atMs, untilMs }) => `${id}  stop planned from ${at(atMs)}${untilMs ? ` until ${at(untilMs)}` : ""}`,
    ),
    ...(season === null
      ? []
      : [
          `${id}  ${season.work}: the season ${seasonWords(season, nowMs)} ${localDate(season.onMs, timezone)}`,
        ]),
    ...(serial === unit.serial
      ? []
      : [`${id}  skid ${visible(serial ?? "")} by the last swap: write serial: ${visible(serial ?? "")}`]),
  ];
}

function seasonWords({ work, onMs }: SeasonWork, nowMs: number): string {
  if (work === "lay-up") return onMs <= nowMs ? "has been over since" : "is over on";
  return onMs <= nowMs ? "began on" : "begins on";
}

function when(dueMs: number, nowMs: number, timezone: string): string {
  if (dueMs === Number.POSITIVE_INFINITY) return "not in season";
  const far = Math.abs(dueMs - nowMs) > 300 * day;
  const date = far ? localTimes(timezone).date(dueMs) : localDate(dueMs, timezone);
  return dueMs <= nowMs ? `overdue since ${date}` : `${date}, in ${age(dueMs - nowMs)}`;
}

/** Why a work is due when it is, and for a forecast between which dates. */
export function because(booking: Booking, timezone: string): string {
  const { forecast, running, fromMs, recorded, everyMs } = booking;
  const date = (timeMs: number): string => localDate(timeMs, timezone);
  const since = `${recorded ? "last" : "first reading"} ${date(fromMs)}`;
  if (booking.because === "gas pressure" && forecast) {
    const latest = Number.isFinite(forecast.latestMs) ? date(forecast.latestMs) : "open";
    return `gas pressure: ${date(forecast.earliestMs)} to ${latest}`;
  }
  if (booking.because === "running" && running) {
    const hours = (ms: number): number => Math.round(ms / hour);
    return `ran ${hours(running.runMs)} of ${hours(running.limitMs)} h; ${since}`;
  }
  return `every ${age(everyMs)}; ${since}`;
}

function dueJson({ fleet, units, nowMs }: FleetDue): unknown {
  return {
    at: iso(nowMs),
    fleet: fleet.name,
    units: units.map(({ unit, view, records, bookings, season }) => ({
      id: unit.id,
      site: unit.site ?? null,
      serial: serialAt(records, unit.serial) ?? null,
      ground_fault: groundFaultJson(view.found),
      begun: openWorks(records, nowMs).map(spanJson),
      planned: stopsAhead(records, nowMs).map(spanJson),
      works: bookings.map((booking) => bookingJson(booking, nowMs)),
      season: season && { work: season.work, on: iso(season.onMs) },
    })),
  };
}

function spanJson({ work, atMs, untilMs, by }: ServiceRecord): unknown {
  return { work, from: iso(atMs), until: time(untilMs), by: by ?? null };
}

/** A booking as JSON gives it; times RFC 3339, null where there is none. */
export function bookingJson(booking: Booking, nowMs: number): unknown {
  const { work, dueMs, because, fromMs, recorded, everyMs, forecast, running } = booking;
  return {
    work,
    due: time(dueMs),
    overdue: dueMs <= nowMs,
    because,
    last: recorded ? iso(fromMs) : null,
    counted_from: iso(fromMs),
    every_days: everyMs / day,
    forecast: forecast
      ? { due: time(forecast.dueMs), earliest: time(forecast.earliestMs), latest: time(forecast.latestMs) }
      : null,
    running: running
      ? {
          hours: Math.round(running.runMs / hour),
          limit_hours: running.limitMs / hour,
          unknown_hours: Math.round(running.unknownMs / hour),
        }
      : null,
  };
}

function time(timeMs: number | undefined): string | null {
  return timeMs !== undefined && Number.isFinite(timeMs) ? iso(timeMs) : null;
}
