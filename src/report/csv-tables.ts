import { type Gauges, gaugeChannels, type HandReadings, type Visit } from "../fleet/visit.ts";
import { fourDigits } from "../terms/number.ts";
import { hour, iso } from "../terms/time.ts";
import { toldShare } from "./availability.ts";
import type { Cell } from "./csv.ts";
import type { FleetReport } from "./fleet-report.ts";
import { gaugesIn } from "./gauge-words.ts";
import type { Interval } from "./intervals.ts";
import { pointsOf } from "./points.ts";
import type { Span } from "./spans.ts";
import type { UnitReport } from "./unit-report.ts";
import { visitsOf } from "./visit-words.ts";

/** A report's figures as CSV: the name's last part, and the rows, the heads first. */
export interface CsvTable {
  readonly name: "units" | "alarms" | "services";
  readonly rows: readonly (readonly Cell[])[];
}

const hours = (ms: number): number => Number((ms / hour).toFixed(4));
const share = (value: number | null): number | null => (value === null ? null : Number(value.toFixed(6)));
const time = (ms: number | null): string | null => (ms === null ? null : iso(ms));
// Summaries are kept in single precision.
const seven = (value: number): number => Number(value.toPrecision(7));

/** The figures of a report as tables, but for its readings; times in UTC, lengths in hours. */
export function csvTables(sites: readonly FleetReport[]): CsvTable[] {
  return [
    { name: "units", rows: units(sites) },
    { name: "alarms", rows: alarms(sites) },
    { name: "services", rows: services(sites) },
  ];
}

export const readingHeads: readonly Cell[] = ["unit", "channel", "from", "to", "least", "mean", "most"];

/** Whether a header is that of one of these tables. */
export function isReportTable(header: readonly string[]): boolean {
  const heads = [readingHeads, ...csvTables([]).map(({ rows: [first = []] }) => first)];
  return heads.some((head) => head.slice(0, 4).every((name, i) => name === header[i]));
}

/** A unit's readings by the hour, in stored units: signal by signal in order of time, of which each is made as it is asked for. */
export function* readingRows(
  { unit, signals }: UnitReport,
  spans: readonly Span[],
  period: Interval,
): Generator<Cell[]> {
  for (const { channel, part, signal } of signals) {
    const name = part === 0 ? channel : `${channel}.${part + 1}`;
    for (const { fromMs, toMs, least, mean, most } of pointsOf(spans, signal, hour)) {
      const from = time(Math.max(fromMs, period.fromMs));
      const to = time(Math.min(toMs, period.toMs));
      yield [unit.id, name, from, to, seven(least), seven(mean), seven(most)];
    }
  }
}

function units(sites: readonly FleetReport[]): Cell[][] {
  const heads = [
    ...["unit", "site", "from", "to", "availability", "availability_lowest", "availability_highest"],
    ...["required_h", "up_h", "down_fault_h", "down_service_h", "unknown_h", "times_down"],
    ...["run_h", "run_least_h", "run_most_h", "ozone_on_h", "ozone_fault_h", "alarms", "data_coverage"],
    ...["ozone_while_stopped_h", "ozone_motor_unknown_h"],
  ];
  const rows = sites.flatMap(({ units: there, period, announced }) =>
    there.map(({ unit, availability: a, running, ozone, coverage }): Cell[] => [
      ...[unit.id, unit.site ?? null, iso(period.fromMs), iso(period.toMs)],
      ...[share(toldShare(a)), share(a.lowest), share(a.highest)],
      ...[a.requiredMs, a.upMs, a.faultMs, a.serviceMs, a.unknownMs].map(hours),
      a.times,
      ...[running.ms, running.leastMs, running.mostMs].map((ms) => (running.by === null ? null : hours(ms))),
      ...(ozone === null ? [null, null] : [hours(ozone.ms), hours(ozone.faultMs)]),
      announced.filter((one) => one.unit === unit.id).length,
      share(coverage),
      ...(ozone === null ? [null, null] : [hours(ozone.whileStoodMs), hours(ozone.unseenMs)]),
    ]),
  );
  return [heads, ...rows];
}

function alarms(sites: readonly FleetReport[]): Cell[][] {
  const acknowledged = new Map(
    sites.flatMap(({ announced }) =>
      announced.map((one) => [`${one.unit}/${one.alarm}/${one.raisedMs}`, one.acknowledgedMs]),
    ),
  );
  const rows = sites
    .flatMap((site) => site.units)
    .flatMap(({ episodes }) =>
      episodes.map(({ unit, alarm, priority, sinceMs, raisedMs, endMs, message }): Cell[] => [
        ...[unit, alarm, priority, time(sinceMs), time(raisedMs)],
        time(acknowledged.get(`${unit}/${alarm}/${raisedMs}`) ?? null),
        ...[time(endMs), message],
      ]),
    );
  return [["unit", "alarm", "priority", "since", "raised", "acknowledged", "ended", "message"], ...rows];
}

function services(sites: readonly FleetReport[]): Cell[][] {
  const rows = sites
    .flatMap((site) => site.units)
    .flatMap(({ unit, services: works }) =>
      works.map(({ work, fromMs, toMs, outcome, by, note, records }): Cell[] => [
        ...[unit.id, work, time(fromMs), time(toMs), outcome, by ?? null, note ?? null],
        ...visitCells(visitsOf(records)),
      ]),
    );
  const visit = [
    ...["arrived", "left", "dissolved_oxygen_mg_l", "secchi_depth_m", "water_temperature_c"],
    ...["ground_fault_test", "parts", "used", "photos", "skid_went", "skid_came", "gauges", "logger"],
  ];
  return [["unit", "work", "from", "to", "outcome", "by", "remark", ...visit], ...rows];
}

function loggedMeans({ logged = {} }: Visit): Gauges {
  return Object.fromEntries(Object.entries(logged).map(([channel, { mean }]) => [channel, mean]));
}

/** `motor_current=7.1; flow=110`: each channel by its name, in its stored unit. */
function named(values: Gauges): string | null {
  const texts = gaugeChannels.flatMap((channel) => {
    const value = values[channel];
    return value === undefined ? [] : [`${channel}=${fourDigits(value)}`];
  });
  return texts.join("; ") || null;
}

/** What was told as a work began and as it ended: of times and readings the last, of words all. */
function visitCells(visits: readonly Visit[]): Cell[] {
  const last = (of: (visit: Visit) => number | undefined): number | undefined =>
    visits.map(of).findLast((value) => value !== undefined);
  const reading = (name: keyof HandReadings): number | null => {
    const value = last(({ readings }) => readings?.[name]);
    return value === undefined ? null : fourDigits(value);
  };
  const words = (of: (visit: Visit) => readonly (string | undefined)[] | undefined): string | null =>
    visits
      .flatMap((visit) => of(visit) ?? [])
      .filter((text) => text !== undefined)
      .join("; ") || null;
  return [
    ...[time(last(({ arrivedMs }) => arrivedMs) ?? null), time(last(({ leftMs }) => leftMs) ?? null)],
    ...[reading("dissolvedOxygenMgL"), reading("secchiM"), reading("waterTemperatureC")],
    words(({ groundFault }) => [groundFault]),
    ...[words(({ parts }) => parts), words(({ used }) => used), words(({ photos }) => photos)],
    ...[words(({ skid }) => [skid?.from]), words(({ skid }) => [skid?.to])],
    named(Object.assign({}, ...visits.map(gaugesIn))),
    named(Object.assign({}, ...visits.map(loggedMeans))),
  ];
}
