import { parseInstant } from "../fleet/instant.ts";
import { readKeyedCsv } from "../fleet/keyed-csv.ts";
import { nearest } from "../fleet/nearest.ts";
import { quoted } from "../fleet/quantity.ts";
import { type AlarmName, alarmNames } from "../terms/alarms.ts";
import { visible } from "../terms/text.ts";
import { statedUnitDays } from "./stated-days.ts";

/** A known fault, by the alarm that names it. */
export interface Fault {
  readonly unit: string;
  readonly alarm: AlarmName;
  readonly startMs: number;
  readonly endMs: number;
}

export interface Truth {
  readonly faults: readonly Fault[];
  /** Units times days, where the file's comments say how many units it covers and from when to when. */
  readonly unitDays?: number;
}

const keys = ["unit", "alarm", "start", "end"] as const;
type Key = (typeof keys)[number];

function timeProblem(text: string): string {
  return `${quoted(text)} is not a time with its offset; write 2026-05-04T03:12:20Z`;
}

/** A row's fault, or what is wrong with each cell. */
function faultOf(
  cell: (key: Key) => string,
  units: ReadonlySet<string> | undefined,
): Fault | readonly string[] {
  const [unit, name] = [cell("unit"), cell("alarm")];
  const alarm = alarmNames.find((known) => known === name);
  const startMs = parseInstant(cell("start"));
  const endMs = parseInstant(cell("end"));
  const problems: string[] = [];
  if (unit === "") problems.push("unit: nothing is no unit; write its id");
  else if (units?.has(unit) === false) {
    problems.push(
      `unit: ${quoted(unit)} is no unit of this fleet; the nearest is ${nearest(unit, [...units])}`,
    );
  }
  if (alarm === undefined) {
    problems.push(`alarm: ${quoted(name)} is not an alarm; the nearest is ${nearest(name, alarmNames)}`);
  }
  if (startMs === undefined) problems.push(`start: ${timeProblem(cell("start"))}`);
  if (endMs === undefined) problems.push(`end: ${timeProblem(cell("end"))}`);
  if (alarm === undefined || startMs === undefined || endMs === undefined) return problems;
  if (endMs < startMs) {
    problems.push(
      `end: ${cell("end")} is before the start ${cell("start")}; write the earlier time as start`,
    );
  }
  return problems.length > 0 ? problems : { unit, alarm, startMs, endMs };
}

/**
 * Known faults from CSV with the columns `unit,alarm,start,end` in any order, further ones ignored. `path` is
 * the file as the user named it; `units`, where it is known, the fleet's. Problems are a line each:
 * `truth.csv:3 alarm: …`. A file without a fault is one, unless it says which unit-days it covers.
 */
export function readTruth(
  csvText: string,
  path: string,
  units?: ReadonlySet<string>,
): Truth | { readonly problems: readonly string[] } {
  const file = visible(path);
  const read = readKeyedCsv(csvText, file, keys);
  if ("problem" in read) return { problems: [read.problem] };
  const { unitDays, problems: misstated } = statedUnitDays(csvText);
  const problems = misstated.map((problem) => `${file}:${problem}`);
  const faults: Fault[] = [];
  for (const { line, cell } of read.rows) {
    const fault = faultOf(cell, units);
    if ("alarm" in fault) faults.push(fault);
    else problems.push(...fault.map((problem) => `${file}:${line} ${problem}`));
  }
  if (read.rows.length === 0 && unitDays === undefined && problems.length === 0) {
    problems.push(
      `${file}: it has no fault; write a row a fault, or say with # units, # from and # to what was free of faults`,
    );
  }
  return problems.length > 0 ? { problems } : { faults, unitDays };
}
