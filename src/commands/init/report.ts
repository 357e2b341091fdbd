import { recordingsHint } from "../../collector/old-recordings.ts";
import { counted, visible } from "../../terms/text.ts";
import { span } from "../../terms/time.ts";
import { commandName } from "../context.ts";
import { table } from "../table.ts";
import { guessTable } from "./guess-table.ts";
import type { SeenUnit } from "./look.ts";

const delimiters = { ",": "comma", ";": "semicolon", "\t": "tab" } as const;

/** Units whose logs were understood alike are told together. */
function alike(units: readonly SeenUnit[]): readonly (readonly SeenUnit[])[] {
  const groups = new Map<string, SeenUnit[]>();
  for (const unit of units) {
    const { header, time, decimal, dots } = unit.newest;
    const key = JSON.stringify([header, time, decimal, dots, unit.intervalMs, unit.guesses]);
    groups.set(key, [...(groups.get(key) ?? []), unit]);
  }
  return [...groups.values()];
}

const mostNamed = 12;

function names(units: readonly SeenUnit[]): string {
  const shown = units.slice(0, mostNamed).map(({ id }) => visible(id));
  const more = units.length - shown.length;
  return `${shown.join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
}

function timeWords({ newest }: SeenUnit): string {
  const { index, date, form, dateOrder } = newest.time;
  const name = (column: number) => `'${visible(newest.cells[column] ?? "")}'`;
  const header = date === undefined ? name(index) : `${name(index)} with the dates of ${name(date)}`;
  const dotted = newest.dots ? ", the day first: dots by custom" : "";
  const order = dateOrder === undefined ? dotted : `, ${dateOrder.order}: ${dateOrder.why}`;
  return form === "local"
    ? `${header}${order}, without offset: UTC is assumed; write the site's zone as timezone: in the file`
    : `${header}, ${form}`;
}

function groupLines(units: readonly SeenUnit[]): string[] {
  const [first] = units;
  if (first === undefined) return [];
  const { intervalMs, guesses, newest } = first;
  const own = guesses.filter(({ recognised }) => recognised).map(({ header }) => visible(header));
  const others = guesses.filter(({ recognised }) => !recognised);
  return [
    "",
    names(units),
    `dialect    ${delimiters[newest.delimiter]}${newest.decimal === undefined ? "" : `, decimal ${newest.decimal}`}`,
    `time       ${timeWords(first)}`,
    `interval   ${Number.isNaN(intervalMs) ? "one reading only" : span(intervalMs)}`,
    ...(own.length > 0 ? [`recognised ${own.join(", ")}`] : []),
    ...(others.length > 0 ? ["", ...guessTable(others)] : []),
  ];
}

function unitLines(units: readonly SeenUnit[]): string[] {
  const rows = units
    .slice(0, mostNamed)
    .map(({ id, paths, why }) => [`  ${visible(id)}`, counted(paths.length, "log"), visible(why)]);
  const more = units.length - rows.length;
  return [...table(rows, 3), ...(more > 0 ? [`  and ${more} more`] : [])];
}

/** What is left to a person, a line each. */
function openLines(units: readonly SeenUnit[]): string[] {
  const open = units.flatMap(({ guesses }) =>
    guesses.filter(({ unsure }) => unsure).map(({ header }) => `'${visible(header)}'`),
  );
  const without = units.filter(({ guesses }) => guesses.every(({ placed }) => placed === undefined));
  const unsureOrder = units.some(({ newest }) => newest.time.dateOrder?.unsure);
  const fitted = units.some(({ guesses }) => guesses.some(({ placed }) => placed?.channel === "ozone"));
  const files = units.filter(({ paths }) => paths.length > 1);
  const longest = Math.max(0, ...files.map(({ longestMs }) => longestMs));
  return [
    ...(without.length > 0
      ? [`  no channel was found at ${names(without)}: map the columns, or take out what is no log`]
      : []),
    ...(unsureOrder
      ? ["  time_format: whether the day or the month comes first in the dates, their rows do not tell"]
      : []),
    ...(open.length > 0 ? [`  columns marked ?: ${[...new Set(open)].join(", ")}`] : []),
    fitted
      ? "  ozone: taken as fitted, since a log has its column; where the cell is bypassed, write so"
      : "  ozone: no column for it, so its alarms stay quiet; write ozone: none where there is no cell",
    "  full_load_current: by the nameplate of each motor; overcurrent and locked-rotor need it",
    ...(files.length > 0
      ? [`  arrives_every: a log covers up to ${span(longest)}; write it if logs come whole, not row by row`]
      : []),
  ];
}

/** What was written, and from what. */
interface Told {
  readonly out: string;
  readonly logs: number;
  readonly nowMs: number;
  /** Logs that cannot be read: a line each. */
  readonly problems: readonly string[];
  /** Lines of what a person should see to besides. */
  readonly toSee: readonly string[];
}

function notRead(problems: readonly string[]): string[] {
  const [first] = problems;
  if (first === undefined) return [];
  if (problems.length === 1) return ["", `not read, and so of no unit: ${first}`];
  return ["", `not read, and so of no unit: ${problems.length} logs, named at the end of the file`];
}

/** What `init` says: which units, how their logs were understood, what is left to decide, and what comes next. */
export function report(units: readonly SeenUnit[], { out, logs, nowMs, toSee, problems }: Told): string[] {
  const file = visible(out);
  const old = recordingsHint(
    Math.max(...units.map(({ newest }) => newest.toMs)),
    nowMs,
    `${commandName()} replay ${file}`,
  );
  return [
    `${file}: ${counted(units.length, "unit")} from ${counted(logs, "log")}`,
    ...unitLines(units),
    ...alike(units).flatMap(groupLines),
    "",
    "for you to decide, in the file:",
    ...toSee,
    ...openLines(units),
    "",
    `see them:   ${commandName()} check ${file}`,
    `watch them: ${commandName()} watch ${file}`,
    ...(old === null ? [] : [old]),
    ...notRead(problems),
  ];
}
