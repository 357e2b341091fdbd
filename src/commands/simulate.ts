import { mkdirSync, readdirSync, rmSync } from "node:fs";
import { setImmediate } from "node:timers/promises";
import { parseInstant } from "../fleet/instant.ts";
import { nearest } from "../fleet/nearest.ts";
import { duration, quoted } from "../fleet/quantity.ts";
import { type FaultEntry, type FaultKind, faultKinds, faultNames } from "../simulate/fault-kinds.ts";
import { inventFleet } from "../simulate/invent.ts";
import type { FaultWish, Invention } from "../simulate/invention.ts";
import { writeFleet } from "../simulate/write-fleet.ts";
import { visible } from "../terms/text.ts";
import { minute, second } from "../terms/time.ts";
import { CannotWork, callersPath, fileProblem, print } from "./context.ts";
import { withLine } from "./progress-line.ts";

export interface SimulateOptions {
  readonly out?: string;
  readonly units: number;
  readonly days: number;
  readonly interval: string;
  readonly seed: number;
  readonly from: string;
  readonly fault: readonly string[];
  readonly clean?: boolean;
  readonly list?: boolean;
  readonly replace?: boolean;
}

/** `simulate`: writes the logs of an invented fleet with known faults, its fleet file, its services and the truth. */
export async function simulate(options: SimulateOptions): Promise<number> {
  if (options.list) {
    for (const name of faultNames) {
      const { alarm, what }: FaultEntry = faultKinds[name];
      print(`${name.padEnd(19)} ${alarm.padEnd(20)} ${what}`);
    }
    return 0;
  }
  if (options.out === undefined) throw new CannotWork("simulate: name a folder for the fleet: --out DIR");
  const invention = inventionOf(options);
  const folder = emptyFolder(options.out, options.replace === true);
  const units = inventFleet(invention);
  const begun = performance.now();
  const { faults, rows } = await withLine(async (tell) => {
    const writing = writeFleet(folder, units, invention);
    let rows = 0;
    for (;;) {
      const next = writing.next();
      if (next.done) return { faults: next.value, rows };
      rows = next.value.rows;
      const { done, of } = next.value;
      tell(() => `simulating: ${Math.floor((100 * done) / of)} % · ${rows} readings`);
      await setImmediate();
    }
  });
  const asked = options.fault.length;
  if (faults.length < asked) {
    process.stderr.write(
      `${asked - faults.length} of ${asked} faults cannot show in this fleet: give it more --units or --days\n`,
    );
  }
  const took = ((performance.now() - begun) / second).toFixed(1);
  const shown = visible(options.out);
  print(`${units.length} units, ${rows} readings, ${faults.length} faults in ${shown} (${took} s)`);
  print(`play it:  tarnwatch replay ${shown}/fleet.yaml --events ${shown}/events.jsonl`);
  print(`score it: tarnwatch score --events ${shown}/events.jsonl --truth ${shown}/truth.csv`);
  return 0;
}

const mostUnits = 1000;

function inventionOf(options: SimulateOptions): Invention {
  const fromMs = parseInstant(options.from);
  if (fromMs === undefined) {
    throw new CannotWork(`--from ${quoted(options.from)} is not a time; write 2026-05-04T00:00:00Z`);
  }
  const intervalMs = durationOf(options.interval, "--interval", { min: second, max: 10 * minute });
  if (!Number.isInteger(options.units) || options.units > mostUnits) {
    throw new CannotWork(`--units ${options.units}: write a whole number up to ${mostUnits}`);
  }
  const faults = options.fault.map(wishOf);
  if (options.clean && faults.length > 0) throw new CannotWork("--clean and --fault: write one of them");
  return {
    units: options.units,
    days: options.days,
    intervalMs,
    seed: options.seed,
    fromMs,
    faults: options.clean || faults.length > 0 ? faults : "all",
  };
}

/** `NAME`, or `NAME,severity=0.5,after=30h`. */
function wishOf(text: string): FaultWish {
  const [name, ...settings] = text.split(",").map((part) => part.trim());
  if (!(faultNames as readonly string[]).includes(name)) {
    throw new CannotWork(
      `--fault ${quoted(name)} is not known; the nearest is ${nearest(name, faultNames)} (simulate --list names all)`,
    );
  }
  let wish: FaultWish = { kind: name as FaultKind };
  for (const setting of settings) {
    const [key, value = ""] = setting.split("=");
    if (key === "severity") {
      const severity = Number(value);
      if (value === "" || !(severity > 0 && severity <= 1)) {
        throw new CannotWork(
          `--fault ${name}: severity ${quoted(value)} is not above 0 and up to 1; write 0.5`,
        );
      }
      wish = { ...wish, severity };
    } else if (key === "after") {
      wish = { ...wish, afterMs: durationOf(value, `--fault ${name}: after`, { min: 0 }) };
    } else {
      throw new CannotWork(
        `--fault ${name}: ${quoted(key)} is not known; write ${name},severity=0.5,after=30h`,
      );
    }
  }
  return wish;
}

function durationOf(text: string, what: string, bounds: { min: number; max?: number }): number {
  const parsed = duration(bounds).safeParse(text);
  if (!parsed.success) throw new CannotWork(`${what} ${parsed.error.issues[0].message}`);
  return parsed.data;
}

/** A folder to write into: new, empty, or cleared where that was asked for. */
function emptyFolder(path: string, replace: boolean): string {
  const folder = callersPath(path);
  try {
    mkdirSync(folder, { recursive: true });
    const names = readdirSync(folder);
    if (names.length > 0 && !replace) {
      throw new CannotWork(`${visible(path)} is not empty; name another folder, or add --replace`);
    }
    // Only what a simulation writes is cleared.
    for (const name of ["logs", "fleet.yaml", "services.csv", "truth.csv"]) {
      rmSync(`${folder}/${name}`, { recursive: true, force: true });
    }
    return folder;
  } catch (error) {
    if (error instanceof CannotWork) throw error;
    throw new CannotWork(`${fileProblem(path, error)}; name a folder that can be written`);
  }
}
