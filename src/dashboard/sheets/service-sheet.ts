import type { FleetView, UnitView } from "../../collector/fleet-view.ts";
import { visible } from "../../terms/text.ts";
import { age, day } from "../../terms/time.ts";
import { noTripWords } from "../found-words.ts";
import { blank, ends, type Line, line, span } from "../line.ts";
import { daysWords, localDate, moment } from "../local-time.ts";
import { begunWords } from "../saying/service-actions.ts";
import { paragraph } from "../section.ts";
import { padEnd, padStart, truncate, widthOf } from "../width.ts";
import { alarmWords, priorityMark, priorityStyle } from "../words.ts";
import { asOf, type Sheet, type SheetGroup, type SheetItem } from "./sheet.ts";

const indent = "     ";
/** Time enough to plan the visit. */
const soonMs = 7 * day;
/** An interval that ends later says no more than that its end is open. */
const openEndMs = 366 * day;

interface Due {
  readonly dueMs: number;
  readonly item: SheetItem;
}

/** What is begun, planned and due in the fleet, and prompts that stand. */
export function serviceSheet(view: FleetView, width: number): Sheet {
  const idWidth = Math.min(10, Math.max(4, ...view.units.map(({ id }) => widthOf(visible(id)))));
  const due = view.units
    .flatMap((unit) => dueAt(unit, view, idWidth, width))
    .toSorted((a, b) => a.dueMs - b.dueMs);
  const group = (heading: string, items: readonly SheetItem[]): SheetGroup => ({
    heading: [line(` ${heading} (${items.length})`, "strong")],
    items,
  });
  const within = (fromMs: number, toMs: number): readonly SheetItem[] =>
    due.filter(({ dueMs }) => dueMs > fromMs && dueMs <= toMs).map(({ item }) => item);
  const now = view.clockMs;
  return {
    title: "Service of the fleet: what is due, and when",
    asOf: asOf(view),
    above: [],
    groups: [
      group(
        "To be put right now",
        view.units.flatMap((unit) => noTripAt(unit, view, width)),
      ),
      group(
        "Under way",
        view.units.flatMap((unit) => begunAt(unit, view, width)),
      ),
      group(
        "Stops that are planned",
        view.units.flatMap((unit) => plannedAt(unit, view, width)),
      ),
      group(
        "Prompts",
        view.units.flatMap((unit) => promptsAt(unit, view, width)),
      ),
      group("Overdue", within(Number.NEGATIVE_INFINITY, now)),
      group(`Due within ${age(soonMs)}`, within(now, now + soonMs)),
      group("Due later", within(now + soonMs, Number.POSITIVE_INFINITY)),
    ],
    none: "nothing is known to be due: no unit has had a reading yet",
  };
}

function dueAt(unit: UnitView, view: FleetView, idWidth: number, width: number): readonly Due[] {
  const { upkeep } = unit;
  if (upkeep === undefined) return [];
  const date = (timeMs: number): string => localDate(timeMs, view.timezone);
  // What fouling asks for first is told as that.
  const byInterval = upkeep.works.filter(({ because }) => because === "interval");
  const together = Map.groupBy(byInterval, ({ dueMs, everyMs, lastMs }) => `${dueMs} ${everyMs} ${lastMs}`);
  const works = [...together.values()].flatMap((ones): Due[] => {
    const [first] = ones;
    if (first === undefined) return [];
    const { dueMs, everyMs, lastMs } = first;
    const last = lastMs === null ? "none on record" : `last ${date(lastMs)}`;
    const what = ones.map(({ work }) => work).join(", ");
    return [{ dueMs, item: row(unit, dueMs, what, `every ${age(everyMs)}, ${last}`, view, idWidth, width) }];
  });
  const { drift } = upkeep;
  if (drift === undefined) return works;
  const { dueMs, earliestMs, latestMs, growth, growthPerDay } = drift;
  const isOpen = !(latestMs < dueMs + openEndMs);
  const within = isOpen
    ? `from ${date(earliestMs)} on, its end is open yet`
    : `between ${date(earliestMs)} and ${date(latestMs)}`;
  const how = Number.isNaN(growthPerDay)
    ? `by fouling, past its limit; ${percent(growth)} so far`
    : `by fouling, ${within}; ${percent(growth)} so far, ${percent(growthPerDay)} a day`;
  return [...works, { dueMs, item: row(unit, dueMs, "cleaning", how, view, idWidth, width) }];
}

function percent(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`;
}

/** `4 May   overdue by 3 d   LM-01   cleaning   every 30 d, last 4 Apr`. */
function row(
  unit: UnitView,
  dueMs: number,
  work: string,
  why: string,
  view: FleetView,
  idWidth: number,
  width: number,
): SheetItem {
  const left = dueMs - view.clockMs;
  const days = daysWords(view.clockMs, dueMs, view.timezone);
  const when = left <= 0 ? `${days} over` : `in ${days}`;
  const mark = left <= 0 ? priorityMark.prompt : " ";
  const start: Line = [
    blank(1),
    span(`${mark} ${padStart(localDate(dueMs, view.timezone), 6)}  ${padStart(when, 10)}  `),
    span(padEnd(truncate(visible(unit.id), idWidth), idWidth), "strong"),
    span(`  ${padEnd(work, 20)} `),
  ];
  const used = start.reduce((sum, piece) => sum + widthOf(piece.text), 0);
  if (used + widthOf(why) <= width) return { unit: unit.id, lines: [withSite(start, why, unit, width)] };
  return {
    unit: unit.id,
    lines: [withSite(start, "", unit, width), ...paragraph(" ".repeat(23), why, width)],
  };
}

/** The site at the right end, where there is room for it. */
function withSite(start: Line, why: string, { site }: UnitView, width: number): Line {
  const text: Line = [...start, span(why)];
  const used = text.reduce((sum, piece) => sum + widthOf(piece.text), 0);
  return site === null || used + widthOf(site) + 3 > width
    ? text
    : ends(text, [span(`${site} `, "dim")], width);
}

function head(unit: UnitView, mark: string, what: string, width: number): Line {
  return ends(
    [blank(1), span(`${mark} `), span(unit.id, "strong"), span("  "), span(what)],
    [span(`${unit.site ?? ""} `, "dim")],
    width,
  );
}

function noTripAt(unit: UnitView, view: FleetView, width: number): readonly SheetItem[] {
  const { noTrip } = unit.found ?? {};
  if (noTrip === undefined) return [];
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  return [
    {
      unit: unit.id,
      lines: [
        head(unit, priorityMark.high, "ground-fault device", width),
        ...paragraph(indent, noTripWords(noTrip, at), width),
      ],
    },
  ];
}

function begunAt(unit: UnitView, view: FleetView, width: number): readonly SheetItem[] {
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  return (unit.begun ?? []).map((one) => ({
    unit: unit.id,
    lines: [head(unit, "◇", one.work, width), ...paragraph(indent, begunWords(one, at), width)],
  }));
}

function plannedAt(unit: UnitView, view: FleetView, width: number): readonly SheetItem[] {
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  return (unit.planned ?? []).map(({ atMs, untilMs, note, by }) => ({
    unit: unit.id,
    lines: [
      head(unit, "◇", `stop from ${at(atMs)}${untilMs === undefined ? "" : ` until ${at(untilMs)}`}`, width),
      ...(note === undefined && by === undefined
        ? []
        : paragraph(indent, [by && `planned by ${by}`, note].filter((text) => text).join(": "), width)),
    ],
  }));
}

/** Prompts, and alarms of planned work that have become more urgent than that. */
function promptsAt(unit: UnitView, view: FleetView, width: number): readonly SheetItem[] {
  return unit.alarms
    .filter(
      ({ alarm, state }) =>
        (alarm === "service-overdue" || alarm === "gas-pressure-drift") && state !== "suppressed",
    )
    .map(({ alarm, priority, sinceMs, message }) => ({
      unit: unit.id,
      lines: [
        [
          blank(1),
          priority === "prompt"
            ? span(`${priorityMark.prompt} `)
            : span(` ${priorityMark[priority]} `, priorityStyle[priority]),
          span(unit.id, "strong"),
          span(`  ${alarmWords(alarm)} for ${age(view.clockMs - sinceMs)}`),
        ],
        ...paragraph(indent, message, width),
      ],
    }));
}
