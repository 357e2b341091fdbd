import { visible } from "../terms/text.ts";
import { parseInstant } from "./instant.ts";
import { readKeyedCsv } from "./keyed-csv.ts";
import { isMapping } from "./merge.ts";
import { nearest } from "./nearest.ts";
import type { Problem } from "./problems.ts";
import { quoted } from "./quantity.ts";
import type { Fleet, ServiceRecord } from "./unit.ts";

const works = ["inspection", "cleaning", "repair"] as const;

const keys = ["unit", "kind", "at"] as const;

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
  const read = readKeyedCsv(csvText, file, keys);
  if ("problem" in read) return { problems: [read.problem] };
  const ids = new Set(fleet.units.map((unit) => unit.id));
  const problems: string[] = [];
  const services: ServiceRecord[] = [];
  for (const { line, cell } of read.rows) {
    const record = serviceRecord({ unit: cell("unit"), kind: cell("kind"), at: cell("at") }, ids);
    if ("problems" in record)
      problems.push(...record.problems.map(({ key, problem }) => `${file}:${line} ${key}: ${problem}`));
    else services.push(record);
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
      if ((keys as readonly string[]).includes(key)) continue;
      note({ path: [...path, key], problem: `this key is not known; the nearest is ${nearest(key, keys)}` });
    }
    const record = serviceRecord(cells, ids);
    if ("problems" in record) {
      for (const { key, problem } of record.problems) note({ path: [...path, key], problem });
    } else services.push(record);
  });
  return inOrder(services);
}
