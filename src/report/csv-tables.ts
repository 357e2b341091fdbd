import { type Gauges, gaugeChannels, type HandReadings, type Visit } from "../fleet/visit.ts";
import { fourDigits } from "../terms/number.ts";
import { hour, iso } from "../terms/time.ts";
import { type Cell, csvText } from "./csv.ts";
import type { FleetReport } from "./fleet-report.ts";
import { gaugesIn } from "./gauge-words.ts";
import type { Interval } from "./intervals.ts";
import { pointsOf } from "./points.ts";
import { visitsOf } from "./visit-words.ts";

/** A report's figures as CSV: the name's last part, and the text. */
export interface CsvTable {
  readonly name: "units" | "readings" | "alarms" | "services";
  readonly text: string;
}

const hours = (ms: number): number => Number((ms / hour).toFixed(4));
const share = (value: number | null): number | null => (value === null ? null : Number(value.toFixed(6)));
const time = (ms: number | null): string | null => (ms === null ? null : iso(ms));
// Summaries are kept in single precision.
const seven = (value: number): number => Number(value.toPrecision(7));

/** The figures of a report as tables; times in UTC, lengths in hours, readings in stored units by the hour. */
export function csvTables(report: FleetReport): CsvTable[] {
  return [
    { name: "units", text: units(report) },
    { name: "readings", text: readings(report) },
    { name: "alarms", text: alarms(report) },
    { name: "services", text: services(report) },
  ];
}

function units({ units: all, period, announced }: FleetReport): string {
  const heads = [
    ...["unit", "site", "from", "to", "availability", "availability_lowest", "availability_highest"],
    ...["required_h", "up_h", "down_fault_h", "down_service_h", "unknown_h", "times_down"],
    ...["run_h", "run_least_h", "run_most_h", "ozone_on_h", "ozone_fault_h", "alarms", "data_coverage"],
  ];
  return csvText(
    heads,
    all.map(({ unit, availability: a, running, ozone, coverage }): Cell[] => [
      ...[unit.id, unit.site ?? null, iso(period.fromMs), iso(period.toMs)],
      ...[share(a.share), share(a.lowest), share(a.highest)],
      ...[a.requiredMs, a.upMs, a.faultMs, a.serviceMs, a.unknownMs].map(hours),
      a.times,
      ...[running.ms, running.leastMs, running.mostMs].map((ms) => (running.by === null ? null : hours(ms))),
      ...(ozone === null ? [null, null] : [hours(ozone.ms), hours(ozone.faultMs)]),
      announced.filter((one) => one.unit === unit.id).length,
      share(coverage),
    ]),
  );
}

function readings({ units: all, period }: FleetReport): string {
  const rows = all.flatMap(({ unit, signals, spans }) =>
    signals.flatMap(({ channel, part, signal }) =>
      pointsOf(spans, signal, hour).map(({ least, mean, most, ...span }): Cell[] => {
        const within: Interval = {
          fromMs: Math.max(span.fromMs, period.fromMs),
          toMs: Math.min(span.toMs, period.toMs),
        };
        return [
          unit.id,
          part === 0 ? channel : `${channel}.${part + 1}`,
          time(within.fromMs),
          time(within.toMs),
          ...[least, mean, most].map(seven),
        ];
      }),
    ),
  );
  return csvText(["unit", "channel", "from", "to", "least", "mean", "most"], rows);
}

function alarms({ units: all, announced }: FleetReport): string {
  const acknowledged = new Map(
    announced.map((one) => [`${one.unit}/${one.alarm}/${one.raisedMs}`, one.acknowledgedMs]),
  );
  const rows = all.flatMap(({ episodes }) =>
    episodes.map(({ unit, alarm, priority, sinceMs, raisedMs, endMs, message }): Cell[] => [
      ...[unit, alarm, priority, time(sinceMs), time(raisedMs)],
      time(acknowledged.get(`${unit}/${alarm}/${raisedMs}`) ?? null),
      ...[time(endMs), message],
    ]),
  );
  return csvText(["unit", "alarm", "priority", "since", "raised", "acknowledged", "ended", "message"], rows);
}

function services({ units: all }: FleetReport): string {
  const rows = all.flatMap(({ unit, services: works }) =>
    works.map(({ work, fromMs, toMs, outcome, by, note, records }): Cell[] => [
      ...[unit.id, work, time(fromMs), time(toMs), outcome, by ?? null, note ?? null],
      ...visitCells(visitsOf(records)),
    ]),
  );
  const visit = [
    ...["arrived", "left", "dissolved_oxygen_mg_l", "secchi_depth_m", "water_temperature_c"],
    ...["ground_fault_test", "parts", "used", "photos", "skid_went", "skid_came", "gauges", "logger"],
  ];
  return csvText(["unit", "work", "from", "to", "outcome", "by", "remark", ...visit], rows);
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
