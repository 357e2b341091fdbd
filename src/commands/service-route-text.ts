import { noTripWords } from "../dashboard/found-words.ts";
import { localDate, moment } from "../dashboard/local-time.ts";
import { answerWords } from "../dashboard/state-words.ts";
import { alarmWords } from "../dashboard/words.ts";
import { counted, sentence, visible } from "../terms/text.ts";
import { age, iso, minute } from "../terms/time.ts";
import { groundFaultJson } from "./found-json.ts";
import { because, bookingJson } from "./service-due.ts";
import type { DayRoute, PlacedVisit } from "./service-route.ts";
import type { WantedSite, WantedVisit } from "./wanted-visits.ts";
import { wrapped } from "./wrapped.ts";

const kmPerMile = 1.609344;

/** A day's visits as a list to print. */
export function routeLines(route: DayRoute): string[] {
  const { fleet, visits, left, unplaced, waiting, load, from, startMin, untilMin, exact } = route;
  const { speedKmh, roadFactor, driveMin, driveKm, backMin } = route;
  const begins =
    from === null ? "from its first visit" : `from ${from.map((one) => one.toFixed(3)).join(", ")}`;
  const title = `${visible(fleet.name)}: ${route.day.toString()}, ${begins}, ${clock(startMin)} to ${clock(untilMin)} (${fleet.timezone})`;
  const roads = `great circle times ${roadFactor} at ${Math.round(distance(speedKmh, route))} ${unit(route)}/h`;
  const order = exact ? "the least driving there is" : "little driving, perhaps not the least";
  const driving = `${counted(visits.length, "visit")}, ${length(driveKm, route)} in ${age(driveMin * minute)} (${roads})`;
  const nothing = visits.length + left.length + unplaced.length === 0;
  if (nothing)
    return [
      ...wrapped(title, ""),
      ...(waiting.length === 0
        ? ["Nothing is wrong, and nothing falls due in that time."]
        : ["Nothing falls due in that time.", ...waitingLine(route)]),
    ];
  return [
    ...wrapped(title, ""),
    ...(visits.length + left.length === 0
      ? []
      : wrapped(`${driving}, over at ${clock(backMin)}. Order: what is wrong now first, then ${order}.`, "")),
    ...waitingLine(route),
    ...visits.flatMap((visit, i) => ["", ...visitLines(visit, i + 1, route)]),
    ...others("Not on that day: it is too short, or the gate closes before", left, route),
    ...others(
      "Without a place in the order, since the fleet file has no position: write sites: NAME: { position: [LAT, LON] }",
      unplaced,
      route,
    ),
    ...(load.length === 0 ? [] : ["", "Load", ...load.flatMap((line) => wrapped(visible(line), "  - "))]),
    "",
    ...wrapped(
      "Cautions of each kind of work: service checklist KIND. Alone or at night by water: life jacket, and tell someone. Not in lightning.",
      "",
    ),
  ];
}

/** What a day far ahead is not ordered by. */
function waitingLine({ waiting }: DayRoute): string[] {
  if (waiting.length === 0) return [];
  const units = waiting.map(visible).join(", ");
  return wrapped(
    `Left out: what is wrong now at ${units}. It does not wait until then; today's route (without --on) has it.`,
    "",
  );
}

function visitLines(
  { site, units, arriveMin, beginMin, leaveMin, driveKm }: PlacedVisit,
  place: number,
  route: DayRoute,
): string[] {
  const wait = beginMin > arriveMin ? `, gate opens at ${clock(beginMin)}` : "";
  const head = `${place}  ${clock(arriveMin)} to ${clock(leaveMin)}  ${visible(site?.name ?? "")}, ${length(driveKm, route)}${wait}`;
  return [
    ...wrapped(head, ""),
    ...(site?.access === undefined ? [] : wrapped(`access: ${visible(site.access)}`, "   ")),
    ...unitLines(units, route, "[ ] "),
  ];
}

/** What is to be done at the units of a site; those with the same to do together, each with a box to tick where it is visited. */
function unitLines(units: readonly WantedVisit[], route: DayRoute, box = ""): string[] {
  const alike = Map.groupBy(units, (one) => reasonsOf(one, route).join("\n"));
  return [...alike].flatMap(([reasons, these]) => [
    ...wrapped(these.map(({ unit }) => `${box}${visible(unit.id)}`).join(box === "" ? ", " : "  "), "   "),
    ...reasons.split("\n").flatMap((reason) => wrapped(reason, "     ")),
  ]);
}

function reasonsOf({ problem, found, alarms, works }: WantedVisit, { fleet, nowMs }: DayRoute): string[] {
  const due = (dueMs: number): string =>
    dueMs <= nowMs
      ? `overdue since ${localDate(dueMs, fleet.timezone)}`
      : `due ${localDate(dueMs, fleet.timezone)}`;
  const at = (timeMs: number): string => moment(timeMs, nowMs, fleet.timezone);
  const booked = Map.groupBy(
    works,
    (booking) => `${due(booking.dueMs)} (${because(booking, fleet.timezone)})`,
  );
  return [
    ...(problem === null ? [] : [`cannot be read: ${visible(problem)}`]),
    ...(found?.noTrip === undefined ? [] : [`ground-fault device ${noTripWords(found.noTrip, at)}`]),
    ...alarms.map((one) => `${alarmWords(one.alarm)}. ${sentence(answerWords(one, nowMs, at))}`),
    ...[...booked].map(([when, these]) => `${these.map(({ work }) => work).join(" and ")} ${when}`),
  ];
}

function others(title: string, sites: readonly WantedSite[], route: DayRoute): string[] {
  if (sites.length === 0) return [];
  return [
    "",
    ...wrapped(title, ""),
    ...[...Map.groupBy(sites, ({ site }) => site)].flatMap(([site, these]) => [
      ` ${visible(site?.name ?? "units without a site")}`,
      ...unitLines(
        these.flatMap(({ units }) => units),
        route,
      ),
    ]),
  ];
}

/** `08:05`, of minutes after midnight. */
function clock(min: number): string {
  const whole = Math.round(min) % (24 * 60);
  return `${String(Math.floor(whole / 60)).padStart(2, "0")}:${String(whole % 60).padStart(2, "0")}`;
}

const unit = ({ fleet }: DayRoute): string => (fleet.display === "us" ? "mi" : "km");
const distance = (km: number, { fleet }: DayRoute): number => (fleet.display === "us" ? km / kmPerMile : km);
const length = (km: number, route: DayRoute): string => `${Math.round(distance(km, route))} ${unit(route)}`;

/** A day's visits as `service route --json` prints them: kilometres, minutes, times of the fleet's zone. */
export function routeJson(route: DayRoute): unknown {
  const { fleet, from, startMin, untilMin, exact, visits, left, unplaced, load } = route;
  return {
    at: iso(route.nowMs),
    fleet: fleet.name,
    timezone: fleet.timezone,
    day: route.day.toString(),
    from,
    start: clock(startMin),
    until: clock(untilMin),
    speed_km_h: tenth(route.speedKmh),
    road_factor: route.roadFactor,
    exact,
    drive_km: tenth(route.driveKm),
    drive_min: tenth(route.driveMin),
    over: clock(route.backMin),
    visits: visits.map(({ arriveMin, beginMin, leaveMin, driveKm, ...stay }) => ({
      ...siteJson(stay, route),
      arrive: clock(arriveMin),
      begin: clock(beginMin),
      leave: clock(leaveMin),
      drive_km: tenth(driveKm),
    })),
    left: left.map((site) => siteJson(site, route)),
    left_out: route.waiting,
    without_position: unplaced.map((site) => siteJson(site, route)),
    load,
  };
}

function siteJson({ site, units }: Pick<WantedSite, "site" | "units">, { nowMs }: DayRoute) {
  return {
    site: site?.name ?? null,
    units: units.map(({ unit, pressing, problem, found, alarms, works }) => ({
      id: unit.id,
      pressing,
      problem,
      ground_fault: groundFaultJson(found),
      alarms: alarms.map(({ alarm, priority }) => ({ alarm, priority })),
      works: works.map((booking) => bookingJson(booking, nowMs)),
    })),
  };
}

const tenth = (value: number): number => Math.round(10 * value) / 10;
