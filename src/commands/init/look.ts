import { join } from "node:path";
import type { Header } from "../../acquire/beginning.ts";
import { type LogSample, sampleLog, timesOf } from "../../acquire/sample.ts";
import type { TimeColumn } from "../../acquire/time-column.ts";
import { isReportTable } from "../../report/csv-tables.ts";
import { visible } from "../../terms/text.ts";
import { fileProblem } from "../context.ts";
import type { Guess } from "./guess.ts";
import { guessShared, ofUnit } from "./guess-columns.ts";
import { type Notation, notationOf } from "./notation.ts";
import { isPlacedSuction } from "./suction.ts";
import { type Covered, some, type UnitLogs, unitsOf } from "./units.ts";

/** A log that was looked into: its form, and what it covers. */
interface Looked extends Header, Covered, Notation {
  readonly time: TimeColumn;
  readonly stepMs: number;
}

/** A unit, and what its logs show. */
export interface SeenUnit extends UnitLogs {
  /** The newest of the logs looked into. */
  readonly newest: Looked;
  readonly guesses: readonly Guess[];
  /** The step between readings, ms; NaN where there is but one. */
  readonly intervalMs: number;
  /** What the longest of the logs looked into covers, ms. */
  readonly longestMs: number;
}

interface Seen {
  readonly units: readonly SeenUnit[];
  /** Logs that cannot be read: a line each. */
  readonly problems: readonly string[];
}

/** So many logs of a unit are looked into, and so many for the columns of one header: all units' together. */
const mostLogs = 12;
const mostOfUnit = 3;
const mostOfHeader = 36;

const formOf = ({ cells, delimiter, time }: LogSample): string =>
  `${time.index} ${time.date ?? ""} ${time.form} ${cells.join(delimiter).toLowerCase()}`;

/** Looks into a folder's logs, by paths from it. Whatever cannot be read is told, and the others go on. */
export async function look(folder: string, name: string, paths: readonly string[]): Promise<Seen> {
  const problems = new Map<string, string>();
  const known = new Map<string, Promise<Looked | undefined>>();
  const byForm = new Map<string, (LogSample & { readonly id: string })[]>();

  async function sampled(path: string): Promise<LogSample | undefined> {
    try {
      const sample = await sampleLog(join(folder, path));
      const isTable = typeof sample !== "string" && isReportTable(sample.cells);
      if (typeof sample !== "string" && !isTable) return sample;
      const why = isTable ? "it is a table that `report --csv` wrote, and no log" : sample;
      problems.set(path, `${visible(path)}: ${why}`);
    } catch (error) {
      problems.set(path, fileProblem(path, error));
    }
    return undefined;
  }

  /** Of all that was sampled, only what it covers stays: cells by the million would fill the memory. */
  async function read(path: string): Promise<Looked | undefined> {
    const sample = await sampled(path);
    if (sample === undefined) return undefined;
    const { cells, delimiter, time } = sample;
    return { cells, delimiter, time, header: formOf(sample), ...timesOf(sample), ...notationOf(sample) };
  }

  function looked(path: string): Promise<Looked | undefined> {
    const before = known.get(path) ?? read(path);
    known.set(path, before);
    return before;
  }

  const units: (Omit<SeenUnit, "guesses"> & { readonly lastPath: string })[] = [];
  for (const unit of await unitsOf(paths, name, looked)) {
    const logs: (Looked & { path: string })[] = [];
    for (const path of some(unit.paths, mostLogs)) {
      const log = await looked(path);
      if (log !== undefined) logs.push({ ...log, path });
    }
    // A header that was changed is the newest one from now on.
    const newest = logs.toSorted((a, b) => b.toMs - a.toMs)[0];
    if (newest === undefined) continue;
    const alike = byForm.get(newest.header) ?? [];
    byForm.set(newest.header, alike);
    for (const { path } of some(
      logs.filter(({ header }) => header === newest.header),
      mostOfUnit,
    )) {
      const sample = alike.length < mostOfHeader ? await sampled(path) : undefined;
      if (sample !== undefined) alike.push({ ...sample, id: unit.id });
    }
    // A day in the first weeks of a month does not tell which number it is; another log may.
    const time = logs.find(({ time: { dateOrder } }) => dateOrder?.unsure === false)?.time ?? newest.time;
    const steps = logs.map(({ stepMs }) => stepMs).filter((ms) => !Number.isNaN(ms));
    units.push({
      ...unit,
      lastPath: newest.path,
      newest: { ...newest, time: { ...newest.time, dateOrder: newest.time.dateOrder && time.dateOrder } },
      intervalMs: steps.sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? Number.NaN,
      longestMs: Math.max(...logs.map(({ fromMs, toMs }) => toMs - fromMs)),
    });
  }
  const shared = new Map([...byForm].map(([form, samples]) => [form, guessShared(samples)]));
  const seen: SeenUnit[] = [];
  for (const { lastPath, ...unit } of units) {
    const guesses = shared.get(unit.newest.header) ?? [];
    const own = (byForm.get(unit.newest.header) ?? []).filter(({ id }) => id === unit.id);
    const further = own.length === 0 && guesses.some(isPlacedSuction) ? await sampled(lastPath) : undefined;
    seen.push({ ...unit, guesses: ofUnit(guesses, further === undefined ? own : [further]) });
  }
  return { units: seen, problems: [...problems.values()] };
}
