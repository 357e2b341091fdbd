import { parse } from "csv-parse/sync";
import { parseInstant } from "../fleet/instant.ts";
import { nearest } from "../fleet/nearest.ts";
import { quoted } from "../fleet/quantity.ts";
import { type AlarmName, alarmNames } from "../terms/alarms.ts";
import { visible } from "../terms/text.ts";
import { day } from "../terms/time.ts";

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
const spanComment = /^\s*#\s*(units|from|to)\s+(\S+)\s*$/gm;

type Row = { readonly record: readonly string[]; readonly info: { readonly lines: number } };

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

/** Unit-days by comments such as `# units 40`, `# from 2026-05-01T00:00:00Z`, `# to …`; all three are needed. */
function statedUnitDays(csvText: string): number | undefined {
  const said = new Map([...csvText.matchAll(spanComment)].map(([, key, value]) => [key, value] as const));
  const fromMs = parseInstant(said.get("from") ?? "");
  const toMs = parseInstant(said.get("to") ?? "");
  const units = Number(said.get("units"));
  if (fromMs === undefined || toMs === undefined || !(units > 0 && toMs > fromMs)) return undefined;
  return (units * (toMs - fromMs)) / day;
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
  const header = "write unit,alarm,start,end in its first line";
  let rows: Row[];
  try {
    rows = parse(csvText, {
      bom: true,
      comment: "#",
      comment_no_infix: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as Row[];
  } catch (error) {
    const line = (error as { lines?: number }).lines ?? 1;
    return { problems: [`${file}:${line} is not CSV: a quote is not closed or stands inside a cell`] };
  }
  const [first, ...rest] = rows;
  if (first === undefined) return { problems: [`${file}: it is empty; ${header}, then a row a fault`] };
  const names = first.record.map((name) => name.toLowerCase());
  const lacking = keys.filter((key) => !names.includes(key));
  if (lacking.length > 0) {
    return { problems: [`${file}:${first.info.lines} has no column ${lacking.join(", ")}; ${header}`] };
  }
  const faults: Fault[] = [];
  const problems: string[] = [];
  for (const { record, info } of rest) {
    const fault = faultOf((key) => record[names.indexOf(key)] ?? "", units);
    if ("alarm" in fault) faults.push(fault);
    else problems.push(...fault.map((problem) => `${file}:${info.lines} ${problem}`));
  }
  const unitDays = statedUnitDays(csvText);
  if (rest.length === 0 && unitDays === undefined) {
    problems.push(
      `${file}: it has no fault; write a row a fault, or say with # units, # from and # to what was free of faults`,
    );
  }
  return problems.length > 0 ? { problems } : { faults, unitDays };
}
