import type { Heard } from "../assess/heard.ts";
import type { FleetView } from "../collector/fleet-view.ts";
import { noProtection } from "../dashboard/found-words.ts";
import { alarmWords } from "../dashboard/words.ts";
import { lastGroundFault } from "../fleet/found.ts";
import { stopsAhead } from "../fleet/services.ts";
import { visible } from "../terms/text.ts";
import type { HandoverInput } from "./handover-input.ts";
import { placeOf, remark } from "./handover-now.ts";
import { type LocalTimes, localTimes } from "./local.ts";
import { type ServiceRow, serviceRows } from "./service-rows.ts";
import { visitFindings, visitsOf } from "./visit-words.ts";
import { outcomeWords, serviceTime } from "./words.ts";

/** What people said and did since then, and what ended by itself, by time. */
export function done({ view, sinceMs, heard, services }: HandoverInput): string[] {
  const times = localTimes(view.timezone, view.clockMs);
  const nowMs = view.clockMs;
  const isNew = (timeMs: number): boolean => timeMs >= sinceMs && timeMs <= nowMs;
  const said = alike(heard.filter(({ timeMs }) => isNew(timeMs))).map((these) => ({
    timeMs: these[these.length - 1].timeMs,
    text: heardLine(these, view, times),
  }));
  const works = [...Map.groupBy(services, ({ unit }) => unit)].flatMap(([unit, records]) =>
    serviceRows(records, nowMs).flatMap((row) => {
      const newMs = row.records.map((one) => one.saidMs ?? one.atMs).filter(isNew);
      if (newMs.length === 0) return [];
      return [{ timeMs: Math.max(...newMs), text: workLine(unit, row, view, times) }];
    }),
  );
  return [...said, ...works].toSorted((a, b) => a.timeMs - b.timeMs).map(({ text }) => text);
}

function placed(id: string, view: FleetView): string {
  return placeOf(view.units.find((unit) => unit.id === id) ?? { id, site: null });
}

/** What was said again and again of the same alarm, in the same words, together. */
function alike(heard: readonly Heard[]): Heard[][] {
  const key = ({ unit, alarm, event, by, note, untilMs, already, except }: Heard): string =>
    JSON.stringify([unit, alarm, event, by, note, untilMs, already?.by, except]);
  return [...Map.groupBy(heard, key).values()];
}

function heardLine(these: readonly Heard[], view: FleetView, times: LocalTimes): string {
  const [first] = these;
  const last = these[these.length - 1];
  const { unit, alarm, event, by, note, untilMs, already, except = [] } = last;
  const what = alarm === "all" ? "all alarms" : alarmWords(alarm);
  const but = except.length === 0 ? "" : ` but ${except.map(alarmWords).join(", ")}`;
  const until = untilMs === undefined ? "" : ` until ${times.moment(untilMs)}`;
  const who = by === undefined ? ": its time is over" : ` by ${visible(by)}`;
  const had =
    already === undefined ? "" : ` (${visible(already.by)} had, at ${times.moment(already.timeMs)})`;
  const often = these.length === 1 ? "" : `, ${these.length} times, last at ${times.moment(last.timeMs)}`;
  return `${times.moment(first.timeMs)} ${placed(unit, view)}: ${what}${but} ${event.replaceAll("-", " ")}${who}${often}${until}${had}${remark(note)}`;
}

function workLine(unit: string, row: ServiceRow, view: FleetView, times: LocalTimes): string {
  const who = row.by === undefined ? "" : ` by ${visible(row.by)}`;
  const visits = visitsOf(row.records);
  const found = visits.flatMap((visit) => visitFindings(visit, view.display)).map((text) => `; ${text}`);
  const caution = lastGroundFault(row.records) === "did not trip" ? `. Mind: ${noProtection}` : "";
  // Who began it is not who is to say that it was done.
  const what =
    row.outcome === "planned"
      ? `stop planned${who}`
      : row.outcome === "ended by itself" && row.by !== undefined
        ? `${row.work}, begun${who}, ${outcomeWords(row)}`
        : `${row.work} ${outcomeWords(row)}${who}`;
  return `${serviceTime(row, times)} ${placed(unit, view)}: ${what}${remark(row.note)}${found.join("")}${caution}`;
}

/** Services and stops that are begun now. */
export function underWay(view: FleetView): string[] {
  const times = localTimes(view.timezone, view.clockMs);
  return view.units.flatMap((unit) =>
    (unit.begun ?? []).map(({ work, atMs, untilMs, by, note }) => {
      const until = untilMs === undefined ? "" : `, ends by itself at ${times.moment(untilMs)}`;
      const who = by === undefined ? "" : `, by ${visible(by)}`;
      return `${placeOf(unit)}: ${work} since ${times.moment(atMs)}${until}${who}${remark(note)}`;
    }),
  );
}

/** Stops that are planned for a time to come, and not taken back. */
export function planned({ view, services }: HandoverInput): string[] {
  const times = localTimes(view.timezone, view.clockMs);
  return [...Map.groupBy(services, ({ unit }) => unit).values()]
    .flatMap((records) => stopsAhead(records, view.clockMs))
    .toSorted((a, b) => a.atMs - b.atMs)
    .map(({ unit, atMs, untilMs, by, note }) => {
      const until = untilMs === undefined ? "" : ` until ${times.moment(untilMs)}`;
      const who = by === undefined ? "" : `, by ${visible(by)}`;
      return `${placed(unit, view)}: from ${times.moment(atMs)}${until}${who}${remark(note)}`;
    });
}
