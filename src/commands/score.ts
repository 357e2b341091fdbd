import { readFile } from "node:fs/promises";
import { text } from "node:stream/consumers";
import { quoted } from "../fleet/quantity.ts";
import type { Fleet } from "../fleet/unit.ts";
import { compare } from "../score/compare.ts";
import { readEvents } from "../score/event-file.ts";
import { readLabels } from "../score/labels.ts";
import { pointCounts, pooled } from "../score/points.ts";
import { type Score, score as scoreOf } from "../score/score.ts";
import { activeSpells, type Told } from "../score/told.ts";
import { readTruth, type Truth } from "../score/truth.ts";
import { unitDaysOf } from "../score/unit-days.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { comparedLines } from "./compared-text.ts";
import { CannotWork, callersPath, fileProblem, print } from "./context.ts";
import { loadFleet } from "./load-fleet.ts";
import { comparedJson, pointJson, scoreJson } from "./score-json.ts";
import { pointLines, scoreLines } from "./score-text.ts";

export interface ScoreOptions {
  readonly events?: string;
  readonly truth?: string;
  readonly fleet?: string;
  readonly json?: boolean;
  /** Two files of events. */
  readonly compare?: readonly string[];
  readonly label?: string;
  readonly skipRows?: number;
  readonly leastRecall?: number;
  readonly mostFalse?: number;
}

/**
 * `score`: holds alarms against known faults, against labelled rows, or one run against another. Returns the
 * exit status: 1 where a fault was missed or an alarm was false, or two runs differ.
 */
export async function score(options: ScoreOptions): Promise<number> {
  if (options.compare !== undefined) return compareRuns(options.compare, options);
  const { events, truth, label } = options;
  if (events === undefined || (truth === undefined) === (label === undefined)) {
    throw new CannotWork(
      "score: write --events FILE --truth FILE; or --events FILE --fleet FLEET --label COLUMN; or --compare A B",
    );
  }
  if (truth === undefined) return scorePoints(events, label ?? "", options);
  refuse(options, "--truth", ["skipRows"]);
  onlyOnce([events, truth]);
  const fleet = await fleetOf(options);
  const { faults, unitDays } = await known(truth, fleet);
  const told = await eventsFrom(events, fleet);
  const { leastRecall = 1, mostFalse = 0 } = options;
  if (mostFalse > 0 && unitDays === null) {
    throw new CannotWork(
      "--most-false is a number a unit-day, and the unit-days are not known; add --fleet FLEET, or # units, # from and # to to the truth file",
    );
  }
  const result = scoreOf(faults, told, unitDays);
  if (options.json) print(jsonLine(scoreJson(result)));
  else for (const line of scoreLines(result)) print(line);
  const { recall, falseAlarms, falsePerUnitDay } = result.total;
  const missedTooMany = recall !== null && recall.value < leastRecall;
  return missedTooMany || (falsePerUnitDay ?? falseAlarms) > mostFalse ? 1 : 0;
}

const optionNames = {
  events: "--events",
  label: "--label",
  skipRows: "--skip-rows",
  leastRecall: "--least-recall",
  mostFalse: "--most-false",
} as const satisfies Partial<Record<keyof ScoreOptions, string>>;

/** Refuses options that mean nothing beside another. */
function refuse(options: ScoreOptions, beside: string, names: readonly (keyof typeof optionNames)[]): void {
  const given = names.find((name) => options[name] !== undefined);
  if (given !== undefined) {
    throw new CannotWork(`${optionNames[given]} means nothing beside ${beside}; leave one of them out`);
  }
}

/** Standard input can be read once. */
function onlyOnce(paths: readonly (string | undefined)[]): void {
  if (paths.filter((path) => path === "-").length > 1) {
    throw new CannotWork("only one file can be -, standard input; write the others' names");
  }
}

/** The fleet, where it is named. */
async function fleetOf({ fleet }: ScoreOptions): Promise<Fleet | undefined> {
  return fleet === undefined ? undefined : (await loadFleet(fleet)).fleet;
}

/** The known faults, of the fleet's units where it is known, and the unit-days. */
async function known(path: string, fleet: Fleet | undefined) {
  const truth = await truthFrom(path, fleet);
  const unitDays = truth.unitDays ?? (fleet && (await unitDaysOf(fleet)));
  // A fleet without a reading covers no time.
  return { faults: truth.faults, unitDays: unitDays || null };
}

async function compareRuns(files: readonly string[], options: ScoreOptions): Promise<number> {
  const [a, b] = files;
  if (a === undefined || b === undefined || files.length > 2) {
    throw new CannotWork("--compare takes two files of events; write --compare A B");
  }
  refuse(options, "--compare", ["events", "label", "skipRows", "leastRecall", "mostFalse"]);
  onlyOnce([a, b, options.truth]);
  const fleet = await fleetOf(options);
  const toldA = await eventsFrom(a, fleet);
  const toldB = await eventsFrom(b, fleet);
  const compared = compare(toldA, toldB);
  let scores: readonly [Score, Score] | undefined;
  if (options.truth !== undefined) {
    const { faults, unitDays } = await known(options.truth, fleet);
    scores = [scoreOf(faults, toldA, unitDays), scoreOf(faults, toldB, unitDays)];
  }
  if (options.json) print(jsonLine(comparedJson(compared, scores)));
  else for (const line of comparedLines(compared, scores)) print(line);
  return compared.some(({ onlyA, onlyB }) => onlyA.length + onlyB.length > 0) ? 1 : 0;
}

async function scorePoints(events: string, label: string, options: ScoreOptions): Promise<number> {
  if (options.fleet === undefined) {
    throw new CannotWork("--label is read in the fleet's logs; write --fleet FLEET with it");
  }
  refuse(options, "--label", ["leastRecall", "mostFalse"]);
  const { fleet } = await loadFleet(options.fleet);
  const told = await eventsFrom(events, fleet);
  const read = await readLabels(fleet, label);
  if ("problems" in read) throw new CannotWork(...read.problems);
  const spells = activeSpells(told);
  const units = read.labels.map((labels) => ({
    unit: labels.unit,
    counts: pointCounts(labels, spells, options.skipRows ?? 0),
  }));
  const all = pooled(units.map(({ counts }) => counts));
  if (options.json) {
    const each = units.map(({ unit, counts }) => ({ unit, ...pointJson(counts) }));
    print(jsonLine({ label, skip_rows: options.skipRows ?? 0, all: pointJson(all), units: each }));
  } else for (const line of pointLines([...units, { unit: "all", counts: all }])) print(line);
  return 0;
}

/** The events of a file; throws where one is of no unit of the fleet, if that is known. */
async function eventsFrom(path: string, fleet?: Fleet): Promise<readonly Told[]> {
  const { name, content } = await fileText(path);
  const read = readEvents(content, name);
  if ("problem" in read) throw new CannotWork(read.problem);
  const stranger = fleet && read.told.find(({ unit }) => fleet.units.every(({ id }) => id !== unit));
  if (stranger !== undefined) {
    throw new CannotWork(
      `${visible(name)}: unit ${quoted(stranger.unit)} is not in the fleet file; name as --fleet the one that was replayed`,
    );
  }
  return read.told;
}

async function truthFrom(path: string, fleet: Fleet | undefined): Promise<Truth> {
  const units = fleet && new Set(fleet.units.map(({ id }) => id));
  const { name, content } = await fileText(path);
  const read = readTruth(content, name, units);
  if ("problems" in read) throw new CannotWork(...read.problems);
  return read;
}

/** A file's text, or that of standard input for `-`, and what to call it. */
async function fileText(path: string): Promise<{ readonly name: string; readonly content: string }> {
  if (path === "-") return { name: "standard input", content: await text(process.stdin) };
  const content = await readFile(callersPath(path), "utf8").catch((error: unknown) => {
    throw new CannotWork(fileProblem(path, error));
  });
  return { name: path, content };
}
