import { execFile } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs, promisify } from "node:util";
import { experimentsFolder, scoreExperiments } from "./experiments.ts";

/** Seeds that no rule was tuned on: those below 100 are for tuning. */
const faultySeeds = [101, 102, 103, 104, 105];
const cleanSeeds = [201, 202, 203];

const run = promisify(execFile);
const launcher = fileURLToPath(new URL("../dist/launch.js", import.meta.url));
const tarnwatch = (...args: readonly string[]) =>
  run(process.execPath, [launcher, ...args], { maxBuffer: 1 << 28 });

/** A built module, typed by its source. */
async function built<Module>(path: string): Promise<Module> {
  return (await import(new URL(`../dist/${path}`, import.meta.url).href)) as Module;
}

interface Fleet {
  readonly name: string;
  readonly seed: number;
  readonly args: readonly string[];
}

/** Simulates a fleet, replays its logs, and gives what was true and what was told, its units named apart. */
async function played({ name, seed, args }: Fleet, folder: string) {
  const { readEvents } = await built<typeof import("../src/score/event-file.ts")>("score/event-file.js");
  const { readTruth } = await built<typeof import("../src/score/truth.ts")>("score/truth.js");
  const out = join(folder, `${name}-${seed}`);
  await tarnwatch("simulate", "--out", out, "--seed", String(seed), ...args);
  const eventFile = join(out, "events.jsonl");
  await tarnwatch("replay", join(out, "fleet.yaml"), "--events", eventFile);
  const text = readFileSync(eventFile, "utf8");
  const truth = readTruth(readFileSync(join(out, "truth.csv"), "utf8"), "truth.csv");
  const events = readEvents(text, "events.jsonl");
  if ("problems" in truth) throw new Error(truth.problems.join("\n"));
  if ("problem" in events) throw new Error(events.problem);
  rmSync(out, { recursive: true });
  const apart = <Named extends { readonly unit: string }>(list: readonly Named[]) =>
    list.map((item) => ({ ...item, unit: `${seed}:${item.unit}` }));
  return {
    faults: apart(truth.faults),
    told: apart(events.told),
    unitDays: truth.unitDays ?? 0,
    text,
  };
}

/** Plays fleets, as many at once as there are cores, and pools them. */
async function pooled(fleets: readonly Fleet[], folder: string) {
  const left = [...fleets];
  const all: Awaited<ReturnType<typeof played>>[] = [];
  const work = async () => {
    for (let fleet = left.shift(); fleet !== undefined; fleet = left.shift()) {
      all.push(await played(fleet, folder));
      process.stderr.write(`${fleet.name}, seed ${fleet.seed}: played\n`);
    }
  };
  await Promise.all(Array.from({ length: availableParallelism() }, work));
  return {
    faults: all.flatMap(({ faults }) => faults),
    told: all.flatMap(({ told }) => told).sort((a, b) => a.timeMs - b.timeMs),
    unitDays: all.reduce((sum, { unitDays }) => sum + unitDays, 0),
    texts: all.map(({ text }) => text),
  };
}

/**
 * `npm run bench -- rules [--units 40] [--days 14] [--interval "10 s"] [--seeds 5]`: what the rules catch, how
 * late, and what they tell for nothing, on simulated fleets that they were not tuned on, on gas lines that foul
 * at a known rate, and on the open pump experiments.
 */
export async function bench(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      units: { type: "string", default: "40" },
      days: { type: "string", default: "14" },
      interval: { type: "string", default: "10 s" },
      seeds: { type: "string", default: "5" },
    },
  });
  const size = ["--units", values.units, "--days", values.days, "--interval", values.interval];
  const { score } = await built<typeof import("../src/score/score.ts")>("score/score.js");
  const { scoreLines } =
    await built<typeof import("../src/commands/score-text.ts")>("commands/score-text.js");
  const { scoreJson } = await built<typeof import("../src/commands/score-json.ts")>("commands/score-json.js");
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-bench-"));
  const seeds = (list: readonly number[]) => list.slice(0, Number(values.seeds));
  const scored = async (title: string, fleets: readonly Fleet[]) => {
    const { faults, told, unitDays, texts } = await pooled(fleets, folder);
    const result = score(faults, told, unitDays);
    console.log(`\n== ${title} ==\n${scoreLines(result).join("\n")}`);
    return { result, texts };
  };
  try {
    const faulty = await scored(
      `all faults, ${values.units} units, ${values.days} days, every ${values.interval}`,
      seeds(faultySeeds).map((seed) => ({ name: "faulty", seed, args: size })),
    );
    const clean = await scored(
      "nothing wrong",
      seeds(cleanSeeds).map((seed) => ({ name: "clean", seed, args: [...size, "--clean"] })),
    );
    const drifts: Record<string, unknown> = {};
    for (const percent of [1, 3]) {
      const wishes = Array.from({ length: 8 }, () => [
        "--fault",
        `gas-line-fouling,severity=${percent / 10},after=24h`,
      ]).flat();
      const drift = await scored(`gas pressure that rises ${percent} % a day`, [
        { name: `drift-${percent}`, seed: 301, args: ["--units", "8", "--days", "13", ...wishes] },
      ]);
      drifts[percent] = scoreJson(drift.result);
    }
    const experiments = existsSync(experimentsFolder) ? await scoreExperiments(experimentsFolder) : null;
    console.log(
      `\n${JSON.stringify({ bench: "rules", ...values, faulty: scoreJson(faulty.result), clean: scoreJson(clean.result), drifts, experiments })}`,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
