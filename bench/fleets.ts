import { execFile } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";

const run = promisify(execFile);
const launcher = fileURLToPath(new URL("../dist/launch.js", import.meta.url));
const tarnwatch = (...args: readonly string[]) =>
  run(process.execPath, [launcher, ...args], { maxBuffer: 1 << 28 });

/** A built module, typed by its source. */
export async function built<Module>(path: string): Promise<Module> {
  return (await import(new URL(`../dist/${path}`, import.meta.url).href)) as Module;
}

export interface BenchFleet {
  readonly name: string;
  readonly seed: number;
  readonly args: readonly string[];
}

/** The option `--fault` as often as wanted. */
export function faultArgs(fault: string, times: number): string[] {
  return Array.from({ length: times }, () => ["--fault", fault]).flat();
}

/** Simulates a fleet, replays its logs, and gives what was true and what was told; `look` sees the folder before it goes. */
export async function played<Seen>(
  { name, seed, args }: BenchFleet,
  folder: string,
  look: (out: string) => Promise<Seen>,
) {
  const { readEvents } = await built<typeof import("../src/score/event-file.ts")>("score/event-file.js");
  const { readTruth } = await built<typeof import("../src/score/truth.ts")>("score/truth.js");
  const out = join(folder, `${name}-${seed}`);
  await tarnwatch("simulate", "--out", out, "--seed", String(seed), ...args);
  const eventFile = join(out, "events.jsonl");
  await tarnwatch("replay", join(out, "fleet.yaml"), "--events", eventFile);
  const truth = readTruth(readFileSync(join(out, "truth.csv"), "utf8"), "truth.csv");
  const events = readEvents(readFileSync(eventFile, "utf8"), "events.jsonl");
  if ("problems" in truth) throw new Error(truth.problems.join("\n"));
  if ("problem" in events) throw new Error(events.problem);
  const seen = await look(out);
  rmSync(out, { recursive: true });
  process.stderr.write(`${name}, seed ${seed}: played\n`);
  return { faults: truth.faults, told: events.told, unitDays: truth.unitDays ?? 0, seen };
}

/** Does the work for each, as many at once as there are cores. */
export async function each<In, Out>(list: readonly In[], work: (one: In) => Promise<Out>): Promise<Out[]> {
  const left = [...list.entries()];
  const done: Out[] = [];
  const worker = async () => {
    for (let next = left.shift(); next !== undefined; next = left.shift()) {
      done[next[0]] = await work(next[1]);
    }
  };
  await Promise.all(Array.from({ length: availableParallelism() }, worker));
  return done;
}

/** Plays fleets and pools them, their units named apart. */
export async function pooled(fleets: readonly BenchFleet[], folder: string) {
  const all = await each(fleets, async (fleet) => {
    const { faults, told, unitDays } = await played(fleet, folder, async () => undefined);
    const apart = <Named extends { readonly unit: string }>(list: readonly Named[]) =>
      list.map((item) => ({ ...item, unit: `${fleet.seed}:${item.unit}` }));
    return { faults: apart(faults), told: apart(told), unitDays };
  });
  return {
    faults: all.flatMap(({ faults }) => faults),
    told: all.flatMap(({ told }) => told).sort((a, b) => a.timeMs - b.timeMs),
    unitDays: all.reduce((sum, { unitDays }) => sum + unitDays, 0),
  };
}
