import { setImmediate } from "node:timers/promises";
import { parseInstant } from "../fleet/instant.ts";
import { nearest } from "../fleet/nearest.ts";
import { duration, quoted } from "../fleet/quantity.ts";
import { type FaultEntry, type FaultKind, faultKinds, faultNames } from "../simulate/fault-kinds.ts";
import { inventFleet } from "../simulate/invent.ts";
import type { FaultWish, Invention } from "../simulate/invention.ts";
import type { TrueFault } from "../simulate/truth.ts";
import { writeFleet } from "../simulate/write-fleet.ts";
import { counted, visible } from "../terms/text.ts";
import { minute, second } from "../terms/time.ts";
import { CannotWork, commandName, print } from "./context.ts";
import { cannotWrite, inventedFolder } from "./invented-folder.ts";
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
  if (!options.out) throw new CannotWork("simulate: name a folder for the fleet: --out DIR");
  const invention = inventionOf(options);
  const folder = inventedFolder(options.out, options.replace === true);
  const begun = performance.now();
  const { faults, rows } = await written(options.out, folder, invention);
  const unseen = notShown(invention, faults);
  if (unseen.length > 0) {
    process.stderr.write(
      `cannot show in this fleet: ${unseen.join(", ")}; give it more --units or --days, or a shorter --interval\n`,
    );
  }
  const took = ((performance.now() - begun) / second).toFixed(1);
  const shown = visible(options.out);
  print(
    `${counted(invention.units, "unit")}, ${counted(rows, "reading")}, ${counted(faults.length, "fault")} in ${shown} (${took} s)`,
  );
  print(`play it:  ${commandName()} replay ${shown}/fleet.yaml --events ${shown}/events.jsonl`);
  print(`score it: ${commandName()} score --events ${shown}/events.jsonl --truth ${shown}/truth.csv`);
  return 0;
}

/** Writes the fleet, showing how far it is. `path` is the folder as the user named it. */
async function written(path: string, folder: string, invention: Invention) {
  const units = inventFleet(invention);
  return withLine(async (tell) => {
    try {
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
    } catch (error) {
      throw (error as NodeJS.ErrnoException).syscall === undefined ? error : cannotWrite(path, error);
    }
  });
}

/** The wishes that no fault of the logs fulfils, by name. */
function notShown({ faults: wishes }: Invention, faults: readonly TrueFault[]): string[] {
  if (wishes === "all") return [];
  const left = faults.map(({ kind }) => kind);
  return wishes.flatMap(({ kind }) => {
    const at = left.indexOf(kind);
    if (at >= 0) left.splice(at, 1);
    return at >= 0 ? [] : [kind];
  });
}

const mostUnits = 1000;
const mostDays = 400;
/** Seeds have 32 bits: two that differ by more would give the same fleet. */
const seeds = 2 ** 32;

function inventionOf(options: SimulateOptions): Invention {
  const fromMs = parseInstant(options.from);
  if (fromMs === undefined) {
    throw new CannotWork(`--from ${quoted(options.from)} is not a time; write 2026-05-04T00:00:00Z`);
  }
  const intervalMs = durationOf(options.interval, "--interval", { min: second, max: 10 * minute });
  if (!Number.isInteger(options.units) || options.units > mostUnits) {
    throw new CannotWork(`--units ${options.units}: write a whole number up to ${mostUnits}`);
  }
  if (options.days > mostDays)
    throw new CannotWork(`--days ${options.days}: write a number up to ${mostDays}`);
  if (options.seed >= seeds)
    throw new CannotWork(`--seed ${options.seed}: write a whole number below ${seeds}`);
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
    const raising = faultNames.filter((kind) => faultKinds[kind].alarm === name);
    if (raising.length > 0) {
      throw new CannotWork(
        `--fault ${name} is an alarm; write a fault that raises it: ${raising.join(", ")}`,
      );
    }
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
