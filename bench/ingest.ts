import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeLogs } from "./logs.ts";

const units = 8;
const rows = 2_000_000;
const rounds = 3;

export interface Measured {
  readonly rowsPerS: number;
  readonly peakMb: number;
}

/** Runs one part in a process of its own, on one core where `taskset` is there; the best of a few rounds. */
function measure(part: string, folder: string, cores: 1 | 2): Measured | null {
  const worker = fileURLToPath(new URL("./ingest-part.ts", import.meta.url));
  const command = [process.execPath, worker, part, folder, String(cores)];
  const pinned = hasProgram("taskset") ? ["taskset", "-c", cores === 1 ? "0" : "0,1", ...command] : command;
  const results: Measured[] = [];
  for (let round = 0; round < rounds; round++) {
    const [program, ...args] = pinned;
    const done = spawnSync(program, args, { encoding: "utf8", stdio: ["ignore", "pipe", "inherit"] });
    if (done.status !== 0) return null;
    results.push(JSON.parse(done.stdout) as Measured);
  }
  return results.reduce((best, next) => (next.rowsPerS > best.rowsPerS ? next : best));
}

function hasProgram(name: string): boolean {
  return spawnSync("sh", ["-c", `command -v ${name}`]).status === 0;
}

/** Counts rows over a threshold with mawk, for comparison: whole process, it starts in no time. */
function measureMawk(folder: string): Measured | null {
  if (!hasProgram("mawk")) return null;
  const begun = performance.now();
  execFileSync("sh", ["-c", `mawk -F, '$2 > 9.4 { n++ } END { print n }' '${folder}'/logs/*.csv`]);
  return { rowsPerS: (rows / (performance.now() - begun)) * 1000, peakMb: 0 };
}

/** `npm run bench -- ingest`: how fast logs are read, as ratios to csv-parse alone in the same run. */
export async function bench(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-bench-"));
  try {
    writeLogs({ folder, units, rowsEach: rows / units }, Date.parse("2026-05-04T00:00:00Z"));
    const measured: Record<string, Measured | null> = {
      "csv-parse alone, one core": measure("csv-parse", folder, 1),
      "mawk, one threshold": measureMawk(folder),
      "decode alone, one core": measure("decode", folder, 1),
      "whole path to events, one core": measure("whole", folder, 1),
      "whole path to events, two cores": measure("whole", folder, 2),
    };
    const base = measured["csv-parse alone, one core"]?.rowsPerS ?? Number.NaN;
    console.log(`${rows} rows of 7 channels in ${units} logs, best of ${rounds}\n`);
    console.log(`${"".padEnd(32)}  M rows/s  × csv-parse  peak MB`);
    for (const [name, m] of Object.entries(measured)) {
      if (m === null) console.log(`${name.padEnd(32)}  not measured`);
      else {
        const numbers = [
          (m.rowsPerS / 1e6).toFixed(2).padStart(8),
          (m.rowsPerS / base).toFixed(1).padStart(11),
        ];
        console.log(
          `${name.padEnd(32)}  ${numbers.join("  ")}  ${m.peakMb === 0 ? "" : m.peakMb.toFixed(0).padStart(7)}`,
        );
      }
    }
    console.log(JSON.stringify({ bench: "ingest", rows, units, measured }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
