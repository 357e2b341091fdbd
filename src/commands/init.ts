import { existsSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { logStem } from "../acquire/ownership.ts";
import { type Walk, walk } from "../acquire/walk.ts";
import { ruleSettings } from "../detect/rules.ts";
import { readFleet } from "../fleet/read.ts";
import type { Fleet } from "../fleet/unit.ts";
import { counted, visible } from "../terms/text.ts";
import { second } from "../terms/time.ts";
import { CannotWork, callersPath, fileProblem, print } from "./context.ts";
import { type Ask, askOnTerminal, withAnswers } from "./init/ask.ts";
import { columnLines, needsColumns, timeHeaders } from "./init/column-lines.ts";
import { fleetText, type UnitText } from "./init/fleet-text.ts";
import { isAmerican } from "./init/header-unit.ts";
import { logKeys } from "./init/log-key.ts";
import { look, type SeenUnit } from "./init/look.ts";
import { report } from "./init/report.ts";
import { toldOfSigns } from "./init/suction.ts";

export interface InitOptions {
  readonly out?: string;
}

/**
 * `init`: writes a fleet file for a folder of logs, and says what it guessed and why. `ask` answers what only a
 * person can. Throws `CannotWork` where there is no log, or where a file would be written over.
 */
export async function init(
  folderPath: string,
  options: InitOptions,
  ask: Ask | undefined = process.stdin.isTTY && process.stdout.isTTY ? askOnTerminal : undefined,
  out: (line: string) => void = print,
): Promise<number> {
  const folder = callersPath(folderPath);
  const named = options.out ?? join(folderPath, "fleet.yaml");
  const path = callersPath(named);
  if (existsSync(path)) throw alreadyThere(named);
  const { entries, aside } = await walked(folder, folderPath);
  const paths = entries.map(({ path }) => path).filter((path) => logStem(basename(path)) !== undefined);
  for (const { why } of aside) process.stderr.write(`${why}\n`);
  if (paths.length === 0) throw new CannotWork(noLogs(folderPath, entries.length));
  const seen = await look(folder, basename(folder), paths);
  for (const problem of seen.problems) process.stderr.write(`${problem}\n`);
  if (seen.units.length === 0) {
    throw new CannotWork(`${visible(folderPath)}: none of its ${counted(paths.length, "log")} can be read`);
  }
  const told = toldOfSigns(seen.units);
  const units = ask === undefined ? told.units : await withAnswers(told.units, ask);
  const text = textOf(units, folder, path, seen.problems);
  await writeNew(named, path, text);
  for (const line of report(units, {
    out: named,
    logs: paths.length,
    nowMs: Date.now(),
    toSee: told.lines,
    problems: seen.problems,
  }))
    out(line);
  return 0;
}

async function walked(folder: string, path: string): Promise<Walk> {
  try {
    return await walk(folder);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT")
      throw new CannotWork(`${visible(path)}: there is no such folder; name the folder of the logs`);
    if (code === "ENOTDIR")
      throw new CannotWork(`${visible(path)}: it is a file; name the folder of the logs`);
    throw new CannotWork(fileProblem(path, error));
  }
}

function noLogs(path: string, files: number): string {
  const why =
    files === 0 ? "there is no file in it" : `none of its ${counted(files, "file")} is named like one`;
  return `${visible(path)}: no log found: ${why}; a log ends in .csv, .csv.gz, .csv.N or .csv.N.gz`;
}

const seconds = (ms: number): string => `${Number((ms / second).toPrecision(6))} s`;

function unitText(unit: SeenUnit, log: string | undefined): UnitText {
  const { newest, guesses } = unit;
  const times = timeHeaders(newest.time, newest.cells);
  const lines = columnLines(times, guesses);
  return {
    id: unit.id,
    why: unit.why,
    logs: unit.paths.length,
    header: newest.header,
    ...(log !== undefined && { log }),
    ...(!Number.isNaN(unit.intervalMs) && { sampleInterval: seconds(unit.intervalMs) }),
    columns: needsColumns(times, guesses) || lines.length > 0 ? lines : [],
  };
}

function textOf(
  units: readonly SeenUnit[],
  folder: string,
  out: string,
  problems: readonly string[],
): string {
  const logs = relative(dirname(out), folder).split(sep).join("/") || ".";
  const local = units.some(({ newest }) => newest.time.form === "local");
  const zone = local
    ? "assumed: the log times have no offset; write the site's, such as America/Chicago"
    : "the log times need none; it is for runs, season and the screen";
  const american = units.filter(({ guesses }) =>
    guesses.some(({ placed }) => placed?.source.unit !== undefined && isAmerican(placed.source.unit)),
  );
  const keys = logKeys(units, plainFleet(units, folder));
  const name = basename(resolve(folder));
  const texts = units.map((unit, i) => unitText(unit, keys[i]));
  return fleetText({
    name,
    logs,
    zone,
    display: american.length > units.length / 2 ? "us" : "si",
    units: texts,
    problems,
  });
}

/** The units by their ids alone, as the program would find their logs. Throws where one of the ids is none. */
function plainFleet(units: readonly SeenUnit[], folder: string): Fleet {
  const text = JSON.stringify({ units: units.map(({ id }) => ({ id })) });
  const read = readFleet(text, { path: "fleet.yaml", folder }, ruleSettings);
  if ("problems" in read) throw new Error(read.problems.join("\n"));
  return { ...read.fleet, logs: folder };
}

const alreadyThere = (named: string): CannotWork =>
  new CannotWork(
    `${visible(named)}: it is there already and is not written over; name another with --out FILE`,
  );

async function writeNew(named: string, out: string, text: string): Promise<void> {
  const read = readFleet(text, { path: named, folder: dirname(out) }, ruleSettings);
  if ("problems" in read) throw new Error(`init wrote what it cannot read: ${read.problems.join("\n")}`);
  try {
    await writeFile(out, text, { flag: "wx" });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST")
      throw new CannotWork(fileProblem(named, error, "write"));
    throw alreadyThere(named);
  }
}
