import { noProtection } from "../dashboard/found-words.ts";
import { quantityText } from "../dashboard/reading-text.ts";
import { alarmWords } from "../dashboard/words.ts";
import { displayed, displayUnit } from "../fleet/display.ts";
import { lastGroundFault } from "../fleet/found.ts";
import { age } from "../terms/time.ts";
import { alarmRows } from "./alarm-rows.ts";
import type { FleetReport } from "./fleet-report.ts";
import { html, type Markup, nothing, tableOf } from "./html.ts";
import { hoursText, type LocalTimes, percentText } from "./local.ts";
import { ozoneRemarks } from "./ozone-remarks.ts";
import { plotMarkup } from "./plot.ts";
import type { ServiceRow } from "./service-rows.ts";
import type { SignalReport, UnitReport } from "./unit-report.ts";
import { visitFacts, visitsOf } from "./visit-words.ts";
import {
  availabilityText,
  boundedText,
  noReading,
  outcomeWords,
  plotWords,
  serviceTime,
  signalWords,
} from "./words.ts";

/** One unit's part of the page, under a heading of a level; `place` sets its ids apart. */
export function unitMarkup(
  unit: UnitReport,
  place: number,
  level: number,
  report: FleetReport,
  times: LocalTimes,
): Markup {
  const heading = (text: string): Markup => html`<h${level + 1}>${text}</h${level + 1}>`;
  const { id, site, serial } = unit.unit;
  return html`<section class="unit" aria-labelledby="u${place}">
<h${level} id="u${place}">${id}${site === undefined ? "" : `, ${site}`}</h${level}>
${serial === undefined ? nothing : html`<p class="quiet">Serial number ${serial}</p>`}
${figures(unit)}${ozoneRemarks(unit.ozone, unit.running).map((line) => html`<p><strong>${line}</strong></p>\n`)}
${heading(`Readings of ${id}`)}
${readings(unit, place, report, times)}
${heading(`Alarms of ${id}`)}
${alarms(unit, report)}
${heading(`Service of ${id}`)}
${services(unit, report, times)}
</section>
`;
}

function figures({ unit, availability, running, ozone, coverage }: UnitReport): Markup {
  const { lowest, highest, requiredMs, upMs, faultMs, serviceMs, unknownMs, times } = availability;
  const { known } = availability;
  const isRead = coverage > 0;
  const isSure = known === null || known === 0 || known === 1 || lowest === null || highest === null;
  const range = isSure
    ? ""
    : ` (between ${percentText(lowest)} and ${percentText(highest)}; ${percentText(known)} of the required time is known)`;
  return tableOf(
    `Figures of ${unit.id}`,
    ["Figure", "Value"],
    [
      ["Availability", `${availabilityText(availability)}${range}`],
      ["Required time", hoursText(requiredMs)],
      ["Up time", isRead ? hoursText(upMs) : noReading],
      [
        "Down time by fault",
        !isRead
          ? noReading
          : `${hoursText(faultMs)}${times > 0 ? `, ${times} ${times === 1 ? "time" : "times"}` : ""}`,
      ],
      ["Down time in service", hoursText(serviceMs)],
      ["Unknown time", hoursText(unknownMs)],
      [
        "Run hours",
        !isRead
          ? noReading
          : running.by === null
            ? "not known: no current, power or run command"
            : `${boundedText(running)}, by ${running.by}`,
      ],
      [
        "Ozone hours",
        !isRead
          ? noReading
          : ozone === null
            ? "no ozone status in the log"
            : `${hoursText(ozone.ms)}${ozone.faultMs > 0 ? `, and ${hoursText(ozone.faultMs)} with a fault` : ""}`,
      ],
      ["Data coverage", percentText(coverage)],
    ],
  );
}

function readings(unit: UnitReport, place: number, report: FleetReport, times: LocalTimes): Markup {
  if (unit.signals.length === 0) return html`<p>No readings in this period.</p>`;
  return html`${drifts(unit, report.display)}
${unit.signals.map((signal, i) => figure(signal, `u${place}p${i}`, unit, report, times))}`;
}

function drifts({ unit, signals }: UnitReport, display: "si" | "us"): Markup {
  const rows = signals.flatMap((signal) => {
    const { channel, drift, baseline } = signal;
    if (drift === null) return [];
    const value = (stored: number): string => quantityText(channel, stored, display);
    // A share of a temperature or of a gauge near zero means nothing: the difference does.
    const shown = (stored: number): number => displayed(channel, stored, display).value;
    const change = shown(drift.last) - shown(drift.first);
    const { decimals } = displayed(channel, 0, display);
    const text = change.toFixed(decimals);
    const signed = Number(text) === 0 ? "0" : change > 0 ? `+${text}` : text;
    return [
      [
        signalWords(signal, unit),
        baseline === null ? "–" : value(baseline),
        value(drift.first),
        value(drift.last),
        `${signed} ${displayUnit(channel, display)}`,
      ],
    ];
  });
  if (rows.length === 0) {
    return html`<p>Too little running with readings at the beginning or the end of the period to tell a drift.</p>`;
  }
  return tableOf(
    `Drift of ${unit.id}: medians while it ran`,
    ["Reading", "Baseline", "First part", "Last part", "Change"],
    rows,
    [1, 2, 3, 4],
  );
}

function figure(
  signal: SignalReport,
  id: string,
  { unit, coverage }: UnitReport,
  { display, period }: FleetReport,
  times: LocalTimes,
): Markup {
  const { channel, points, baseline } = signal;
  const title = `${unit.id}: ${signalWords(signal, unit)}, ${displayUnit(channel, display)}`;
  const description = plotWords(signal, coverage, display);
  const shown = (stored: number): number => displayed(channel, stored, display).value;
  const drawn = {
    id,
    title,
    description,
    period,
    points: points.map(({ least, mean, most, ...when }) => ({
      ...when,
      least: shown(least),
      mean: shown(mean),
      most: shown(most),
    })),
    baseline: baseline === null ? null : shown(baseline),
  };
  return html`<figure>${plotMarkup(drawn, times)}<figcaption>${title}. ${description}</figcaption></figure>
`;
}

function alarms({ unit, episodes, coverage }: UnitReport, { announced, period }: FleetReport): Markup {
  const rows = alarmRows(unit.id, episodes, announced, period);
  if (rows.length === 0 && coverage === 0)
    return html`<p>No reading in this period: whether anything was wrong is not known.</p>`;
  if (rows.length === 0) return html`<p>No alarm in this period.</p>`;
  return tableOf(
    `Alarms of ${unit.id}`,
    ["Alarm", "Priority", "Times", "Stood for", "Time to acknowledge"],
    rows.map((row) => [
      alarmWords(row.alarm),
      row.priority,
      row.times,
      `${age(row.stoodMs)}${row.stands ? ", and stands at the end" : ""}`,
      row.acknowledgedMs === null ? "–" : age(row.acknowledgedMs),
    ]),
    [2],
  );
}

function services({ unit, services: rows }: UnitReport, { display }: FleetReport, times: LocalTimes): Markup {
  if (rows.length === 0) return html`<p>No service on record in this period.</p>`;
  const found = ({ records }: ServiceRow): string =>
    visitsOf(records)
      .flatMap((visit) => visitFacts(visit, display))
      .join("; ") || "–";
  const table = tableOf(
    `Service of ${unit.id}`,
    ["When", "Work", "Outcome", "By", "Found and used", "Remark"],
    rows.map((row) => [
      serviceTime(row, times),
      row.work,
      outcomeWords(row),
      row.by ?? "–",
      found(row),
      row.note ?? "–",
    ]),
  );
  const last = lastGroundFault(rows.flatMap(({ records }) => records));
  if (last !== "did not trip") return table;
  return html`${table}<p><strong>The last ground-fault test on record here was not passed: ${noProtection}.</strong></p>
`;
}
