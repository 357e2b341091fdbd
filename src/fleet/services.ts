import { parse } from "csv-parse/sync";
import { visible } from "../terms/text.ts";
import { parseInstant } from "./instant.ts";
import { isMapping } from "./merge.ts";
import { nearest } from "./nearest.ts";
import type { Problem } from "./problems.ts";
import { quoted } from "./quantity.ts";
import type { Fleet, ServiceRecord } from "./unit.ts";

const works = ["inspection", "cleaning", "repair"] as const;

const keys: readonly string[] = ["unit", "kind", "at"];

/** The words that `kind` may be: work done at one moment, or its begin or end. */
const kinds = new Map<string, Pick<ServiceRecord, "work" | "step">>([
  ...works.map((work) => [work, { work, step: "done" }] as const),
  ...works.flatMap((work) =>
    (["begin", "end", "done"] as const).map((step) => [`${work} ${step}`, { work, step }] as const),
  ),
  ["planned stop begin", { work: "planned stop", step: "begin" }],
  ["planned stop end", { work: "planned stop", step: "end" }],
]);

/** A service record's cells made into a record, or what is wrong with each, by its key. */
function serviceRecord(
  cells: { readonly unit?: unknown; readonly kind?: unknown; readonly at?: unknown },
  ids: ReadonlySet<string>,
): ServiceRecord | { problems: readonly { key: "unit" | "kind" | "at"; problem: string }[] } {
  const problems: { key: "unit" | "kind" | "at"; problem: string }[] = [];
  const unit = String(cells.unit ?? "").trim();
  const kind = String(cells.kind ?? "")
    .trim()
    .replace(/\s+/g, " ")
    .toLowerCase();
  const at = typeof cells.at === "string" ? parseInstant(cells.at.trim()) : undefined;
  const what = kinds.get(kind);
  if (!ids.has(unit)) {
    problems.push({
      key: "unit",
      problem: `${quoted(unit)} is no unit of this fleet; its units are ${fewOf([...ids])}`,
    });
  }
  if (what === undefined) {
    const write = nearest(kind, [...kinds.keys()]);
    problems.push({ key: "kind", problem: `${quoted(cells.kind)} is not a kind of service; write ${write}` });
  }
  if (at === undefined) {
    problems.push({
      key: "at",
      problem: `${quoted(cells.at)} is not a time with its offset; write 2026-05-01T00:00:00Z`,
    });
  }
  if (what === undefined || at === undefined || problems.length > 0) return { problems };
  return { unit, ...what, atMs: at };
}

const shownIds = 5;

function fewOf(ids: readonly string[]): string {
  return ids.length <= shownIds
    ? ids.join(", ")
    : `${ids.slice(0, shownIds).join(", ")} and ${ids.length - shownIds} more`;
}

/** Records in order of time, those of one moment as written. */
function inOrder(records: readonly ServiceRecord[]): readonly ServiceRecord[] {
  return records.toSorted((a, b) => a.atMs - b.atMs);
}

/**
 * Service records from CSV with the columns `unit,kind,at` in any order, further ones ignored; in order of
 * time. `path` is the file as the user named it. Problems are a line each: `services.csv:3 kind: …`.
 */
export function readServices(
  csvText: string,
  path: string,
  fleet: Fleet,
): { services: readonly ServiceRecord[] } | { problems: readonly string[] } {
  const file = visible(path);
  let rows: { record: string[]; info: { lines: number } }[];
  try {
    rows = parse(csvText, {
      bom: true,
      comment: "#",
      comment_no_infix: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as typeof rows;
  } catch (error) {
    const line = (error as { lines?: number }).lines ?? 1;
    return {
      problems: [
        `${file}:${line} is not CSV: a quote is not closed or stands inside a cell; write unit,kind,at`,
      ],
    };
  }
  const header = rows.shift();
  const names = header?.record.map((name) => name.toLowerCase()) ?? [];
  const missing = keys.filter((name) => !names.includes(name));
  if (missing.length > 0) {
    return {
      problems: [
        `${file}:${header?.info.lines ?? 1} has no column ${missing.join(", ")}; write unit,kind,at in its first line`,
      ],
    };
  }
  const ids = new Set(fleet.units.map((unit) => unit.id));
  const problems: string[] = [];
  const services: ServiceRecord[] = [];
  for (const { record, info } of rows) {
    const cell = (name: string) => record[names.indexOf(name)];
    const read = serviceRecord({ unit: cell("unit"), kind: cell("kind"), at: cell("at") }, ids);
    if ("problems" in read)
      problems.push(...read.problems.map((p) => `${file}:${info.lines} ${p.key}: ${p.problem}`));
    else services.push(read);
  }
  return problems.length > 0 ? { problems } : { services: inOrder(services) };
}

/** The fleet file's own list of services, in order of time; tells what is wrong with each. */
export function serviceList(
  list: unknown,
  ids: ReadonlySet<string>,
  note: (problem: Problem) => void,
): readonly ServiceRecord[] {
  const example = "{ unit: LM-01, kind: cleaning, at: 2026-05-01T00:00:00Z }";
  if (list === undefined || list === null) return [];
  if (!Array.isArray(list)) {
    note({ path: ["services"], problem: `${quoted(list)} is not a list; write - ${example}` });
    return [];
  }
  const services: ServiceRecord[] = [];
  list.forEach((cells: unknown, index) => {
    const path = ["services", index];
    if (!isMapping(cells)) {
      note({ path, problem: `${quoted(cells)} is not a mapping; write ${example}` });
      return;
    }
    for (const key of Object.keys(cells)) {
      if (keys.includes(key)) continue;
      note({ path: [...path, key], problem: `this key is not known; the nearest is ${nearest(key, keys)}` });
    }
    const record = serviceRecord(cells, ids);
    if ("problems" in record) {
      for (const { key, problem } of record.problems) note({ path: [...path, key], problem });
    } else services.push(record);
  });
  return inOrder(services);
}
