import { countedPriorities } from "../terms/alarms.ts";
import { counted } from "../terms/text.ts";
import { age } from "../terms/time.ts";
import { toldShare } from "./availability.ts";
import { definitionsMarkup } from "./definitions.ts";
import type { FleetReport, SitePermission } from "./fleet-report.ts";
import { escaped, html, type Markup, nothing, tableOf } from "./html.ts";
import { hoursText, type LocalTimes, localTimes, percentText } from "./local.ts";
import { unitMarkup } from "./page-unit.ts";
import { styleSheet } from "./style.ts";
import { availabilityText } from "./words.ts";

/** A report as a page of HTML that needs nothing but itself, and is refused everything else. */
export function reportPage(report: FleetReport): string {
  const times = localTimes(report.timezone);
  const { fleet, period, customers, units } = report;
  const title = `${fleet}: ${times.moment(period.fromMs)} to ${times.moment(period.toMs)}`;
  const body = html`<header>
<h1>${fleet}: pump report</h1>
<p>From ${times.moment(period.fromMs)} to ${times.moment(period.toMs)}, times of ${report.timezone}. ${counted(units.length, "unit")}.${customers.length === 0 ? "" : ` For ${customers.join(", ")}.`}</p>
<p class="quiet">Prepared on ${times.moment(report.preparedMs)} from what tarnwatch has kept.</p>
${notes(report, times)}</header>
<main>
<h2>At a glance</h2>
${glance(report)}
<h2>Alarms and response</h2>
${response(report)}
<h2>Ozone and what allows it</h2>
${ozone(report)}
<h2>Units</h2>
${units.map((unit, place) => unitMarkup(unit, place + 1, report, times))}
<h2>What the figures mean</h2>
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

function glance({ units, announced, period }: FleetReport): Markup {
  const periodMs = period.toMs - period.fromMs;
  return html`${tableOf(
    "Each unit over the period",
    ["Unit", "Site", "Availability", "Run hours", "Ozone hours", "Alarms", "Data coverage"],
    units.map(({ unit, availability, running, ozone, coverage }, place) => [
      html`<a href="#u${place + 1}">${unit.id}</a>`,
      unit.site ?? "–",
      toldShare(availability) === null
        ? availabilityText(availability)
        : withCoverage(availabilityText(availability), availability.known),
      running.by === null ? "–" : withCoverage(hoursText(running.ms), running.knownMs / periodMs),
      ozone === null ? "–" : withCoverage(hoursText(ozone.ms), ozone.knownMs / periodMs),
      withCoverage(announced.filter((one) => one.unit === unit.id).length, coverage),
      percentText(coverage),
    ]),
    [2, 3, 4, 5, 6],
  )}<p class="quiet">In small letters: how much of the time that a figure tells of is known. Of what was not read nothing is counted.</p>
`;
}

/** A figure, and under it the share of time that it rests on. */
function withCoverage(figure: string | number, known: number | null): Markup {
  return html`${figure}<br><small>known for ${percentText(known)}</small>`;
}

function response({ announced, answers }: FleetReport): Markup {
  if (announced.length === 0) return html`<p>People were told of no alarm in this period.</p>`;
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
