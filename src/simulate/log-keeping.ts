import { type LogFormat, lineWriter } from "./log-format.ts";
import type { Sample } from "./sensors.ts";

/** What may go wrong between a logger and its file. */
export type Blemish =
  /** Nothing was written for a while. */
  | { readonly kind: "gap"; readonly fromMs: number; readonly toMs: number }
  /** Some rows were written twice. */
  | { readonly kind: "repeated"; readonly atMs: number; readonly rows: number }
  /** Some rows were written after later ones. */
  | { readonly kind: "late"; readonly atMs: number; readonly rows: number; readonly byRows: number }
  /** A line that is no reading came between. */
  | { readonly kind: "garbage"; readonly atMs: number; readonly text: string };

/** The lines of a log for readings in order of time, with what went wrong in keeping it. */
export function keepLog(
  samples: readonly Sample[],
  format: LogFormat,
  blemishes: readonly Blemish[],
): string[] {
  const write = lineWriter(format);
  let rows = samples.map((sample) => ({ timeMs: sample.timeMs, line: write(sample) }));
  for (const blemish of blemishes) {
    if (blemish.kind === "gap") {
      rows = rows.filter((row) => row.timeMs < blemish.fromMs || row.timeMs >= blemish.toMs);
      continue;
    }
    const at = rows.findIndex((row) => row.timeMs >= blemish.atMs);
    if (at < 0) throw new RangeError(`a log has no row for its ${blemish.kind} rows`);
    if (blemish.kind === "repeated") {
      rows.splice(at, 0, ...rows.slice(at, at + blemish.rows));
    } else if (blemish.kind === "late") {
      const late = rows.splice(at, blemish.rows);
      rows.splice(at + blemish.byRows, 0, ...late);
    } else {
      rows.splice(at, 0, { timeMs: blemish.atMs, line: blemish.text + format.lineEnd });
    }
  }
  return rows.map((row) => row.line);
}
