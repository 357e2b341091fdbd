import { countedPriorities } from "../terms/alarms.ts";
import { counted } from "../terms/text.ts";
import { age } from "../terms/time.ts";
import { definitionsMarkup } from "./definitions.ts";
import type { FleetReport, SitePermission } from "./fleet-report.ts";
import { escaped, html, type Markup, nothing, tableOf } from "./html.ts";
import { hoursText, type LocalTimes, localTimes, percentText } from "./local.ts";
import { ozoneRemarks } from "./ozone-remarks.ts";
import { unitMarkup } from "./page-unit.ts";
import { styleSheet } from "./style.ts";
import { availabilityText } from "./words.ts";

/**
 * A report as a page of HTML that needs nothing but itself, and is refused everything else: a part for each of several
 * sites. `owners`: how many customers' units it tells of.
 */
export function reportPage(sites: readonly FleetReport[], owners: number): string {
  const [first] = sites;
  if (first === undefined) throw new RangeError("a report is of some unit");
  const { fleet, period, timezone } = first;
  const times = localTimes(timezone);
  const title = `${fleet}: ${times.moment(period.fromMs)} to ${times.moment(period.toMs)}`;
  const units = sites.reduce((sum, site) => sum + site.units.length, 0);
  const alone = sites.length === 1;
  const body = html`<header>
<h1>${fleet}: pump report</h1>
<p>From ${times.moment(period.fromMs)} to ${times.moment(period.toMs)}, times of ${timezone}. ${counted(units, "unit")}${alone ? atSite(first) : ` at ${counted(sites.length, "site")}`}.${alone ? forWhom(first) : ""}</p>
<p class="quiet">Prepared on ${times.moment(first.preparedMs)} from what tarnwatch has kept.</p>
${owners > 1 ? html`<p><strong>This page tells of ${owners} customers and is not for handing on: each may have one of their own.</strong></p>\n` : nothing}${alone ? notes(first, times) : nothing}</header>
<main>
${alone ? parts(first, 2, 0, times) : sites.map((site, i) => sitePart(site, i, placeOf(sites, i), times))}<h2>What the figures mean</h2>
${definitionsMarkup()}</main>
<footer><p>Tarnwatch observes and advises. It stops no pump and no ozone cell, and silence is no proof of safety. The maker's manual, local code and licensed trades come first. This page is no record of compliance with a permit.</p></footer>
`;
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${styleSheet}</style></head>
<body>
${body.markup}</body></html>
`;
}

/** How many units stand on the page before those of a site. */
function placeOf(sites: readonly FleetReport[], site: number): number {
  return sites.slice(0, site).reduce((sum, { units }) => sum + units.length, 0);
}

function atSite({ units: [unit] }: FleetReport): string {
  return unit?.unit.site === undefined ? "" : ` at ${unit.unit.site}`;
}

function forWhom({ customers }: FleetReport): string {
  return customers.length === 0 ? "" : ` For ${customers.join(", ")}.`;
}

/** One of several sites. */
function sitePart(site: FleetReport, i: number, place: number, times: LocalTimes): Markup {
  return html`<section class="site" aria-labelledby="s${i + 1}">
<h2 id="s${i + 1}">${site.units[0]?.unit.site ?? "Without a site"}</h2>
<p>${counted(site.units.length, "unit")}.${forWhom(site)}</p>
${notes(site, times)}${parts(site, 3, place, times)}</section>
`;
}

/** All that is told of some units, under headings of a level; `place`: how many stand on the page before them. */
function parts(report: FleetReport, level: number, place: number, times: LocalTimes): Markup {
  const heading = (text: string): Markup => html`<h${level}>${text}</h${level}>`;
  return html`${heading("At a glance")}
${glance(report, place)}
${heading("Alarms and response")}
${response(report)}
${heading("Ozone and what allows it")}
${ozone(report)}
${heading("Units")}
${report.units.map((unit, i) => unitMarkup(unit, place + i + 1, level + 1, report, times))}
`;
}

/** What limits all the figures. */
function notes({ units, keptSinceMs, period }: FleetReport, times: LocalTimes): Markup {
  const said: string[] = [];
  if (keptSinceMs === null || keptSinceMs >= period.toMs) said.push("Nothing is kept of this period.");
  else if (keptSinceMs > period.fromMs) {
    said.push(
      `Nothing is kept from before ${times.moment(keptSinceMs)}: that part of the period is unknown.`,
    );
  }
  const silent = units.filter(({ coverage }) => coverage === 0).map(({ unit }) => unit.id);
  if (silent.length === units.length) said.push("No unit has a reading in this period.");
  else if (silent.length > 0) said.push(`No reading in this period: ${silent.join(", ")}.`);
  return said.length === 0
    ? nothing
    : html`${said.map(
        (line) => html`<p><strong>${line}</strong></p>
`,
      )}`;
}

function glance({ units, announced, period }: FleetReport, before: number): Markup {
  const periodMs = period.toMs - period.fromMs;
  return html`${tableOf(
    "Each unit over the period",
    ["Unit", "Availability", "Run hours", "Ozone hours", "Alarms", "Data coverage"],
    units.map(({ unit, availability, running, ozone, coverage }, place) => [
      html`<a href="#u${before + place + 1}">${unit.id}</a>`,
      availability.known === null || availability.known === 0
        ? availabilityText(availability)
        : withCoverage(availabilityText(availability), availability.known),
      running.by === null ? "–" : withCoverage(hoursText(running.ms), running.knownMs / periodMs),
      ozone === null
        ? "–"
        : html`${withCoverage(hoursText(ozone.ms), ozone.knownMs / periodMs)}${ozoneRemarks(ozone, running).length === 0 ? nothing : html`<br><strong>see ${unit.id}</strong>`}`,
      alarmsText(announced.filter((one) => one.unit === unit.id).length, coverage),
      percentText(coverage),
    ]),
    [1, 2, 3, 4, 5],
  )}<p class="quiet">In small letters: how much of the time that a figure tells of is known. Of what was not read nothing is counted.</p>
`;
}

/** How many alarms there were; of a unit of which nothing was read none is no answer. */
function alarmsText(alarms: number, coverage: number): Markup | string {
  return alarms === 0 && coverage === 0 ? "–" : withCoverage(alarms, coverage);
}

/** A figure, and under it the share of time that it rests on. */
function withCoverage(figure: string | number, known: number | null): Markup {
  return html`${figure}<br><small>known for ${percentText(known)}</small>`;
}

function response({ announced, answers, units }: FleetReport): Markup {
  if (announced.length === 0) {
    return units.every(({ coverage }) => coverage === 0)
      ? html`<p>No reading in this period: whether anything was wrong is not known.</p>`
      : html`<p>People were told of no alarm in this period.</p>`;
  }
  return tableOf(
    "How alarms were answered",
    [
      "Priority",
      "Alarms",
      "Acknowledged",
      "Not acknowledged",
      "Median time to acknowledge",
      "Nine of ten within",
    ],
    countedPriorities.map((priority) => {
      const { acknowledged, unacknowledged, medianMs, ninetiethMs } = answers[priority];
      const told = announced.filter((one) => one.priority === priority).length;
      const time = (ms: number | null): string => (ms === null ? "–" : age(ms));
      return [priority, told, acknowledged, unacknowledged, time(medianMs), time(ninetiethMs)];
    }),
    [1, 2, 3, 4, 5],
  );
}

function ozone({ permissions, units }: FleetReport): Markup {
  if (permissions.length === 0) return html`<p>No unit of this report has ozone.</p>`;
  const hours = ({ units: ids }: SitePermission): number | null => {
    const known = units.flatMap(({ unit, ozone }) => (ids.includes(unit.id) ? (ozone?.ms ?? []) : []));
    return known.length === 0 ? null : known.reduce((sum, ms) => sum + ms, 0);
  };
  return html`${tableOf(
    "Permission by site, as it is written in the fleet file",
    ["Site", "Units", "Ozone hours", "Permission", "What is on record"],
    permissions.map((one) => [
      one.site ?? "no site",
      one.units.join(", "),
      hoursText(hours(one)),
      one.permission.standing,
      one.permission.entries.map(([key, text]) => `${key.replaceAll("_", " ")}: ${text}`).join("; ") || "–",
    ]),
    [2],
  )}<p class="quiet">Whether a permit is needed, and what it asks for, is for the local authority to say.</p>
`;
}
