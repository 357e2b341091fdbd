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
  const { fleet, faults, unitDays } = await known(truth, options.fleet);
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

/** The known faults, with the fleet that they are of where it is named. */
async function known(path: string, fleetPath: string | undefined) {
  const fleet = fleetPath === undefined ? undefined : (await loadFleet(fleetPath)).fleet;
  const truth = await truthFrom(path, fleet);
  const unitDays = truth.unitDays ?? (fleet && (await unitDaysOf(fleet)));
  // A fleet without a reading covers no time.
  return { fleet, faults: truth.faults, unitDays: unitDays || null };
}

async function compareRuns(files: readonly string[], options: ScoreOptions): Promise<number> {
  const [a, b] = files;
  if (a === undefined || b === undefined || files.length > 2) {
    throw new CannotWork("--compare takes two files of events; write --compare A B");
  }
  if (a === "-" && b === "-") throw new CannotWork("--compare: only one of the two files can be -");
  const toldA = await eventsFrom(a);
  const toldB = await eventsFrom(b);
  const compared = compare(toldA, toldB);
  let scores: readonly [Score, Score] | undefined;
  if (options.truth !== undefined) {
    const { faults, unitDays } = await known(options.truth, options.fleet);
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
  const standardInput = path === "-";
  const name = standardInput ? "standard input" : path;
  const read = readEvents(standardInput ? await text(process.stdin) : await fileText(path), name);
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
  const read = readTruth(await fileText(path), path, units);
  if ("problems" in read) throw new CannotWork(...read.problems);
  return read;
}

function fileText(path: string): Promise<string> {
  return readFile(callersPath(path), "utf8").catch((error: unknown) => {
    throw new CannotWork(fileProblem(path, error));
  });
}
