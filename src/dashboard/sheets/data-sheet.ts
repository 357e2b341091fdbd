import type { FleetView, UnitView } from "../../collector/fleet-view.ts";
import { counted, visible } from "../../terms/text.ts";
import { age, second } from "../../terms/time.ts";
import { blank, type Line, line, type Span, span } from "../line.ts";
import { clockTime, moment } from "../local-time.ts";
import { isPartlyJudged, partlyJudgedWords } from "../partly-judged.ts";
import { paragraph } from "../section.ts";
import { padEnd, padStart, truncate, widthOf } from "../width.ts";
import { alarmWords, catchingUpMark, channelWords, priorityMark } from "../words.ts";
import { asOf, type Sheet, type SheetItem } from "./sheet.ts";

const indent = "       ";
const shownGaps = 3;
const shownRejected = 3;
/** Alarms that tell of the readings themselves. */
const ofData: ReadonlySet<string> = new Set(["sensor-fault", "readings-stale", "clock-fault"]);

const columns = [
  ["last reading", 12],
  ["ago", 11],
  ["every", 6],
  ["gaps", 4],
  ["late", 5],
  ["rejected", 8],
  ["not judged", 10],
] as const;
type Column = (typeof columns)[number][0];
/** Left out first where there is no room for all. */
const spare: readonly Column[] = ["ago", "every"];

/** The columns that have room in `width`, and what is left for the units' ids. */
interface DataTable {
  readonly columns: readonly (typeof columns)[number][];
  readonly idWidth: number;
}

function tableFor(view: FleetView, width: number): DataTable {
  const needed = (kept: DataTable["columns"]): number => kept.reduce((sum, [, each]) => sum + 2 + each, 4);
  const leastId = 6;
  let kept: DataTable["columns"] = columns;
  for (const name of spare) {
    if (needed(kept) + leastId > width) kept = kept.filter(([each]) => each !== name);
  }
  const widest = Math.max(4, ...view.units.map(({ id }) => widthOf(visible(id))));
  return { columns: kept, idWidth: Math.max(4, Math.min(14, width - needed(kept), widest)) };
}

/** How far each unit's readings can be relied on, those with something wrong first. */
export function dataSheet(view: FleetView, width: number): Sheet {
  const table = tableFor(view, width);
  const units = view.units
    .map((unit, place) => ({ unit, place, wrong: wrongs(unit) }))
    .toSorted((a, b) => b.wrong - a.wrong || a.place - b.place);
  const wrong = units.filter((one) => one.wrong > 0).length;
  const heading: Line = [
    blank(4),
    span(padEnd("unit", table.idWidth), "dim"),
    ...table.columns.map(([name, columnWidth]) => span(`  ${padStart(name, columnWidth)}`, "dim")),
  ];
  return {
    title: `Data quality of the fleet: amiss at ${wrong} of ${counted(view.units.length, "unit")}`,
    asOf: asOf(view),
    above: view.units.length === 0 ? [] : [heading],
    groups: [
      { heading: [], items: units.map(({ unit }) => item(unit, view, table, width)) },
      { heading: [line(" What cannot be judged, and why", "strong")], items: notJudged(view, width) },
    ],
    none: "no unit in the fleet file",
  };
}

/** How bad it is: nothing can be read, then what is not trusted, then gaps, late and rejected rows and what units lack. */
function wrongs(unit: UnitView): number {
  if (unit.problem !== null) return 3;
  if (unit.alarms.some(({ alarm }) => ofData.has(alarm))) return 2;
  const incomplete = (unit.gaps?.spans.length ?? 0) + unit.log.late + unit.log.rejected > 0;
  return incomplete || isPartlyJudged(unit) ? 1 : 0;
}

function item(
  unit: UnitView,
  view: FleetView,
  { columns: shown, idWidth }: DataTable,
  width: number,
): SheetItem {
  const { log, lastReadingMs, intervalMs, gaps, quiet } = unit;
  const bad = wrongs(unit);
  const cells: Readonly<Record<Column, string>> = {
    "last reading": lastReadingMs === null ? "none" : when(lastReadingMs, view),
    ago: lastReadingMs === null ? "" : age(Math.max(0, view.clockMs - lastReadingMs)),
    every: intervalMs === null ? "" : every(intervalMs),
    gaps: gaps === undefined ? "" : String(gaps.spans.length),
    late: String(log.late),
    rejected: String(log.rejected),
    "not judged": unit.catchingUp ? catchingUpMark : String(quiet.length),
  };
  const first: Line = [
    blank(1),
    span(` ${bad >= 2 ? "!" : bad === 1 ? "·" : " "} `),
    span(padEnd(truncate(visible(unit.id), idWidth), idWidth), bad >= 2 ? "strong" : "plain"),
    ...shown.map(([name, columnWidth]): Span => span(`  ${padStart(cells[name], columnWidth)}`)),
  ];
  const lines = details(unit, view).flatMap(([lead, text]) =>
    paragraph(`${indent}${padEnd(lead, 12)} `, visible(text), width),
  );
  return { unit: unit.id, lines: [first, ...lines] };
}

/** What is behind the figures, a line each. */
function details(unit: UnitView, view: FleetView): readonly (readonly [lead: string, text: string])[] {
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  const { gaps, log, alarms, readings, problem } = unit;
  const partly = partlyJudgedWords(unit);
  const missing = readings.filter(({ value }) => value === null).map(({ channel }) => channelWords[channel]);
  return [
    ...(problem === null ? [] : [["not read", problem] as const]),
    ...alarms
      .filter(({ alarm }) => ofData.has(alarm))
      .map(
        ({ alarm, message, priority }) =>
          [
            alarm === "sensor-fault"
              ? "not trusted"
              : alarmWords(alarm).toLowerCase().replace("readings ", ""),
            `${priorityMark[priority]} ${message}`,
          ] as const,
      ),
    ...(partly === null ? [] : [["not judged", partly] as const]),
    ...(missing.length === 0 ? [] : [["no value of", missing.join(", ")] as const]),
    ...(gaps === undefined || gaps.spans.length === 0 ? [] : [["gaps", gapWords(gaps, at)] as const]),
    ...log.newestRejected
      .slice(0, shownRejected)
      .map(({ file, line: row, why }) => ["rejected", `${nameOf(file)}:${row} ${why}`] as const),
  ];
}

/** Each reason for which alarms cannot be judged, those of most units first. Where nothing was read all lack the same. */
function notJudged(view: FleetView, width: number): readonly SheetItem[] {
  const units = new Map<string, string[]>();
  for (const { id, lastReadingMs, quiet } of view.units) {
    if (lastReadingMs === null) continue;
    for (const [why, rules] of Map.groupBy(quiet, (one) => one.why)) {
      const alarms = rules.map(({ alarm }) => alarmWords(alarm).toLowerCase()).join(", ");
      const reason = `${alarms}: ${why}`;
      units.set(reason, [...(units.get(reason) ?? []), id]);
    }
  }
  return [...units]
    .toSorted(([, a], [, b]) => b.length - a.length)
    .map(([reason, ids]) => ({
      unit: null,
      lines: [
        ...paragraph("   ", visible(reason), width),
        ...paragraph("     ", `at ${counted(ids.length, "unit")}: ${ids.map(visible).join(", ")}`, width),
      ],
    }));
}

/** A file's name without its folders, which the unit's screen tells. */
function nameOf(path: string): string {
  return path.split(/[/\\]/).at(-1) ?? path;
}

function gapWords(
  { longerThanMs, spans }: NonNullable<UnitView["gaps"]>,
  at: (ms: number) => string,
): string {
  const newest = spans.slice(-shownGaps).toReversed();
  const told = newest.map(([fromMs, toMs]) => `${at(fromMs)} to ${at(toMs)} (${age(toMs - fromMs)})`);
  return `longer than ${age(longerThanMs)}, newest first: ${told.join(", ")}`;
}

function when(timeMs: number, view: FleetView): string {
  const said = moment(timeMs, view.clockMs, view.timezone);
  return said.includes(" ") ? said : clockTime(timeMs, view.timezone, true);
}

/** A sample interval; loggers sample ten times a second as well as every quarter of an hour. */
function every(intervalMs: number): string {
  return intervalMs < second ? `${intervalMs} ms` : age(intervalMs);
}
