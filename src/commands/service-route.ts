import type { Temporal } from "temporal-polyfill";
import type { Route, Visit } from "../advise/route/day.ts";
import { loadFor } from "../advise/route/load.ts";
import { staysOf } from "../advise/route/stays.ts";
import { parseQuantity } from "../fleet/quantity.ts";
import { parseWindow } from "../fleet/schedule-schema.ts";
import type { Fleet, Site } from "../fleet/unit.ts";
import { greatCircleKm } from "../physics/great-circle.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { minute } from "../terms/time.ts";
import { CannotWork, print } from "./context.ts";
import { loadFleet } from "./load-fleet.ts";
import { routeDay } from "./route-day.ts";
import { routeJson, routeLines } from "./service-route-text.ts";
import { readDue } from "./service-upkeep.ts";
import { isWrong, type WantedSite, type WantedVisit, wantedSites } from "./wanted-visits.ts";

export interface RouteOptions {
  readonly from?: string;
  readonly on?: string;
  readonly start?: string;
  readonly until: string;
  readonly atUnit: string;
  readonly within: string;
  /** km/h, or mi/h under `display: us`. */
  readonly speed?: number;
  readonly roadFactor: number;
  readonly json?: boolean;
  readonly state?: string;
}

type Position = readonly [number, number];

/** A stay at a site. */
export interface PlacedVisit extends Omit<Visit, "stop"> {
  readonly site: Site | null;
  readonly units: readonly WantedVisit[];
  readonly driveKm: number;
}

/** A day's visits, as it is printed. */
export interface DayRoute extends Pick<Route, "driveMin" | "backMin"> {
  readonly fleet: Fleet;
  readonly day: Temporal.PlainDate;
  readonly nowMs: number;
  readonly from: Position | null;
  readonly startMin: number;
  readonly untilMin: number;
  readonly speedKmh: number;
  readonly roadFactor: number;
  readonly exact: boolean;
  readonly visits: readonly PlacedVisit[];
  readonly driveKm: number;
  /** For whose units the day was too short, or the gate closed. */
  readonly left: readonly WantedSite[];
  /** Whose position the fleet file does not tell. */
  readonly unplaced: readonly WantedSite[];
  /** Units that something is wrong with now, which does not wait for a day so far ahead. */
  readonly waiting: readonly string[];
  readonly load: readonly string[];
}

/** Driving on country roads between ponds (house choice). */
const usualSpeedKmh = 50;
const kmPerMile = 1.609344;

/** `service route`: the visits of a day, in the order of least driving. */
export async function route(fleetPath: string | undefined, options: RouteOptions): Promise<number> {
  const from = options.from === undefined ? null : positionOf(options.from);
  const atUnitMin = lengthMs(options.atUnit, "--at-unit") / minute;
  const withinMs = lengthMs(options.within, "--within");
  // What is refused is refused before the logs are read.
  routeDay(options, Date.now(), (await loadFleet(fleetPath)).fleet.timezone);
  const due = await readDue(fleetPath, options);
  const { fleet, nowMs } = due;
  const { day, startMin, untilMin, isFar } = routeDay(options, nowMs, fleet.timezone);
  const dayEndMs = day.add({ days: 1 }).toZonedDateTime(fleet.timezone).epochMilliseconds;
  const wanted = wantedSites(due, dayEndMs, dayEndMs + withinMs, !isFar);
  const placed = wanted.filter(({ site }) => site?.position !== undefined);
  const speedKmh =
    (options.speed ?? usualSpeedKmh) * (options.speed && fleet.display === "us" ? kmPerMile : 1);
  const km = distances(placed, from, options.roadFactor);
  const found = staysOf({
    places: placed.map(({ site, units }) => {
      const [opensMin, closesMin] = hoursOf(site, startMin);
      return { units: units.map(({ pressing }) => pressing), opensMin, closesMin };
    }),
    atUnitMin,
    driveMin: km.map((row) => row.map((one) => (60 * one) / speedKmh)),
    startMin,
    untilMin,
  });
  const rows = [0, ...found.stays.map(({ place }) => place + 1)];
  const visits = found.stays.map(({ place, units: seen, ...stay }, i): PlacedVisit => {
    const { site, units } = placed[place];
    return { ...stay, site, units: units.slice(0, seen), driveKm: km[rows[i]][place + 1] };
  });
  const seenAt = new Map(found.stays.map(({ place, units }) => [place, units]));
  const left = placed.flatMap(({ site, units }, place): WantedSite[] => {
    const others = units.slice(seenAt.get(place) ?? 0);
    return others.length === 0 ? [] : [{ site, units: others }];
  });
  const planned: DayRoute = {
    fleet,
    day,
    nowMs,
    from,
    startMin,
    untilMin,
    speedKmh,
    roadFactor: options.roadFactor,
    exact: found.exact,
    visits,
    driveMin: found.driveMin,
    driveKm: (found.driveMin * speedKmh) / 60,
    backMin: found.backMin,
    left,
    unplaced: wanted.filter(({ site }) => site?.position === undefined),
    waiting: isFar ? due.units.filter(isWrong).map(({ unit }) => unit.id) : [],
    load: loadFor(visits.flatMap(({ units }) => units.map(loadOf))),
  };
  if (options.json) print(jsonLine(routeJson(planned)));
  else for (const line of routeLines(planned)) print(line);
  return 0;
}

function loadOf({ unit: { service }, alarms, works }: WantedVisit) {
  const repair = alarms.length > 0 ? (["repair"] as const) : [];
  return {
    service,
    works: [...works.map(({ work }) => work), ...repair],
    alarms: alarms.map(({ alarm }) => alarm),
  };
}

/** Road kilometres from place to place; 0 from and to where the day begins, if that is not told. */
function distances(placed: readonly WantedSite[], from: Position | null, roadFactor: number): number[][] {
  const places: readonly (Position | null)[] = [from, ...placed.map(({ site }) => site?.position ?? null)];
  return places.map((a) =>
    places.map((b) => (a === null || b === null ? 0 : roadFactor * greatCircleKm(a, b))),
  );
}

const wholeDay = [0, 24 * 60] as const;

/** A site's working hours about the time at which the day begins, minutes after midnight. */
function hoursOf(site: Site | null, startMin: number): readonly [number, number] {
  const window = site?.workingHours === undefined ? undefined : parseWindow(site.workingHours);
  if (window === undefined) return wholeDay;
  const { from, to } = window;
  if (from < to) return [from, to];
  // Hours that pass midnight: the end of last night's, or the beginning of tonight's.
  return startMin < to ? [0, to] : [from, to + 24 * 60];
}

function positionOf(text: string): Position {
  const [latitude, longitude, ...more] = text
    .split(",")
    .map((part) => (part.trim() === "" ? Number.NaN : Number(part)));
  if (more.length === 0 && Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180)
    return [latitude, longitude];
  throw new CannotWork(
    `--from '${visible(text)}' is not a position; write degrees of latitude and longitude: 41.88,-93.10`,
  );
}

function lengthMs(text: string, option: string): number {
  const parsed = parseQuantity(text, "ms", { min: 0 });
  if ("value" in parsed) return parsed.value;
  throw new CannotWork(`${option}: ${parsed.problem}`);
}
