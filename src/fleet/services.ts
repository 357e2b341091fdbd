import { z } from "zod";
import { visible } from "../terms/text.ts";
import { day, hour } from "../terms/time.ts";
import { works } from "../terms/works.ts";
import { parseInstant } from "./instant.ts";
import { told } from "./json-schema.ts";
import { readKeyedCsv } from "./keyed-csv.ts";
import { isMapping } from "./merge.ts";
import { nearest } from "./nearest.ts";
import type { Problem } from "./problems.ts";
import { quoted } from "./quantity.ts";
import type { Fleet, ServiceRecord } from "./unit.ts";

/** A service that was begun ends by itself after this, a long shift (house choice): nobody is warned meanwhile. */
export const usualServiceMs = 8 * hour;
export const longestServiceMs = 14 * day;

const required = ["unit", "kind", "at"] as const;
const keys = [...required, "until"] as const;
type Key = (typeof keys)[number];

/** The words that `kind` may be: work done at one moment, or its begin or end. */
const kinds = new Map<string, Pick<ServiceRecord, "work" | "step">>([
  ...works.map((work) => [work, { work, step: "done" }] as const),
  ...works.flatMap((work) =>
    (["begin", "end", "done"] as const).map((step) => [`${work} ${step}`, { work, step }] as const),
  ),
  ["planned stop begin", { work: "planned stop", step: "begin" }],
  ["planned stop end", { work: "planned stop", step: "end" }],
  ["baseline confirm", { work: "baseline", step: "confirm" }],
  ["baseline relearn", { work: "baseline", step: "relearn" }],
]);

/** A service as the fleet file takes it, for editors; `serviceRecord` is what judges it. */
export const writtenService = z.strictObject({
  unit: told(z.string(), "the unit's id"),
  kind: told(z.enum([...kinds.keys()]), "the work, done or with its begin or end"),
  at: told(z.string(), "when, with its offset", "2026-05-01T00:00:00Z"),
  until: told(z.string(), "when a begun work is over by itself").optional(),
});

/** A service record's cells made into a record, or what is wrong with each, by its key. */
function serviceRecord(
  cells: Readonly<Partial<Record<Key, unknown>>>,
  ids: ReadonlySet<string>,
): ServiceRecord | { problems: readonly { key: Key; problem: string }[] } {
  const problems: { key: Key; problem: string }[] = [];
  const unit = String(cells.unit ?? "").trim();
  const kind = String(cells.kind ?? "")
    .trim()
    .replace(/\s+/g, " ")
    .toLowerCase();
  const at = instantIn(cells.at);
  const ends = cells.until !== undefined && cells.until !== null && cells.until !== "";
  const until = ends ? instantIn(cells.until) : undefined;
  const what = kinds.get(kind);
  if (!ids.has(unit)) {
    problems.push({
      key: "unit",
      problem: `${quoted(unit)} is no unit of this fleet; its units are ${fewOf([...ids])}`,
    });
  }
  if (what === undefined) {
    const known = [...kinds.keys()];
    const write = known.find((one) => one.startsWith(`${kind} `)) ?? nearest(kind, known);
    problems.push({ key: "kind", problem: `${quoted(cells.kind)} is not a kind of service; write ${write}` });
  }
  if (at === undefined) {
    problems.push({ key: "at", problem: noInstant(cells.at) });
  }
  if (ends && until === undefined) {
    problems.push({ key: "until", problem: noInstant(cells.until) });
  } else if (ends && what !== undefined && what.step !== "begin") {
    problems.push({
      key: "until",
      problem: "only what begins has an end of its own; write it at a begin, or leave it out",
    });
  } else if (until !== undefined && at !== undefined && until <= at) {
    problems.push({ key: "until", problem: `${quoted(cells.until)} is not after 'at'; write a later time` });
  }
  if (what === undefined || at === undefined || problems.length > 0) return { problems };
  return { unit, ...what, atMs: at, ...(until !== undefined && { untilMs: until }) };
}

function instantIn(cell: unknown): number | undefined {
  return typeof cell === "string" ? parseInstant(cell.trim()) : undefined;
}

function noInstant(cell: unknown): string {
  return `${quoted(cell)} is not a time with its offset; write 2026-05-01T00:00:00Z`;
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

/** Whether a record follows from a begin, and nobody wrote it. */
export function endsByItself({ step }: ServiceRecord): boolean {
  return step === "lapse" || step === "taken-back";
}

/**
 * Records in order of time, with a lapse for each begun work whose `untilMs` came before its end, and before it was
 * begun anew; `taken-back` where that begin takes it back. Lapses that stand among the records already are left out
 * first, so that an end which is recorded later takes its lapse away. At one moment a lapse comes last: what begins as
 * another ends leaves no gap.
 */
export function withLapses(records: readonly ServiceRecord[]): readonly ServiceRecord[] {
  const told = inOrder(records.filter((record) => !endsByItself(record)));
  const endedMs = new Map<string, number>();
  const lapses: ServiceRecord[] = [];
  for (const record of told.toReversed()) {
    const { unit, work, step, atMs, untilMs } = record;
    if (step !== "begin" && step !== "end") continue;
    const which = `${work} ${unit}`;
    if (
      step === "begin" &&
      untilMs !== undefined &&
      untilMs < (endedMs.get(which) ?? Number.POSITIVE_INFINITY)
    )
      lapses.push({ unit, work, step: takesBack(record) ? "taken-back" : "lapse", atMs: untilMs });
    endedMs.set(which, atMs);
  }
  return inOrder([...told, ...lapses.toReversed()]);
}

/**
 * Service records from CSV with the columns `unit,kind,at` in any order, where there is one also `until`, further ones
 * ignored; in order of time and with their lapses. `path` is the file as the user named it. Problems are a line each:
 * `services.csv:3 kind: …`.
 */
export function readServices(
  csvText: string,
  path: string,
  fleet: Fleet,
): { services: readonly ServiceRecord[] } | { problems: readonly string[] } {
  const file = visible(path);
  const read = readKeyedCsv<(typeof required)[number], "until">(csvText, file, required);
  if ("problem" in read) return { problems: [read.problem] };
  const ids = new Set(fleet.units.map((unit) => unit.id));
  const problems: string[] = [];
  const services: ServiceRecord[] = [];
  for (const { line, cell } of read.rows) {
    const record = serviceRecord(
      { unit: cell("unit"), kind: cell("kind"), at: cell("at"), until: cell("until") },
      ids,
    );
    if ("problems" in record)
      problems.push(...record.problems.map(({ key, problem }) => `${file}:${line} ${key}: ${problem}`));
    else services.push(record);
  }
  return problems.length > 0 ? { problems } : { services: withLapses(services) };
}

/** The fleet file's own list of services, in order of time and with their lapses; tells what is wrong with each. */
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
  return withLapses(services);
}

/**
 * What takes a begun work or a planned stop back at `nowMs`: it is begun anew and over at once. An end would put the
 * work on record as done.
 */
export function takeBack<T extends ServiceRecord>(begun: T, nowMs: number): T {
  const atMs = Math.max(begun.atMs, nowMs);
  return { ...begun, atMs, untilMs: atMs + 1 };
}

/** Whether a record takes back what was begun before it. */
export function takesBack({ step, atMs, untilMs }: ServiceRecord): boolean {
  return step === "begin" && untilMs === atMs + 1;
}

/** What is begun at one unit after a record of it, by what was begun before. */
export function openAfter(open: readonly ServiceRecord[], record: ServiceRecord): readonly ServiceRecord[] {
  const { work, step, atMs } = record;
  if (step === "done") return open;
  if (endsByItself(record))
    return open.filter((one) => one.work !== work || one.untilMs === undefined || one.untilMs > atMs);
  const others = open.filter((one) => one.work !== work);
  return step === "begin" ? [...others, record] : others;
}

/** What is begun at one unit at `nowMs` and has not ended; its records in order of time, with their lapses. */
export function openWorks(records: readonly ServiceRecord[], nowMs: number): readonly ServiceRecord[] {
  return records.filter(({ atMs }) => atMs <= nowMs).reduce(openAfter, [] as readonly ServiceRecord[]);
}

/** Stops of one unit that are planned for after `nowMs` and have not been taken back, the next first. */
export function stopsAhead(records: readonly ServiceRecord[], nowMs: number): readonly ServiceRecord[] {
  const stops = records.filter(
    ({ work, step, atMs }) => work === "planned stop" && step === "begin" && atMs > nowMs,
  );
  // One that is planned anew from the same time stands for itself.
  const newest = stops.filter((one) => one === stops.findLast(({ atMs }) => atMs === one.atMs));
  return inOrder(newest.filter((one) => !takesBack(one)));
}
