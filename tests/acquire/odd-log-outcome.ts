import { appendFileSync, rmSync } from "node:fs";
import { basename } from "node:path";
import { openLog, type Reading, readAll, readingsOf, write } from "./workbench.ts";

/** What came of a log, in the words of the table; what is not there did not happen. */
export interface Outcome {
  /** The motor currents in order, A; `–` where one is missing. */
  readonly read: string;
  /** The rejected rows as `line: reason`, in the order of the file. */
  readonly rejected?: readonly string[];
  readonly repeats?: number;
  readonly joined?: number;
  readonly late?: number;
  readonly problem?: string;
}

const text = (reading: Reading): string => String(reading.motor_current ?? "–");

/** Reads a log that is written in the given parts, one read after each, and what is left at the end. */
export async function outcomeOf(
  folder: string,
  name: string,
  parts: readonly Buffer[],
  timezone: string,
): Promise<Outcome & { readings: readonly Reading[] }> {
  const path = write(folder, name, "");
  const log = openLog(folder, { timezone });
  log.setFiles([path]);
  const readings: Reading[] = [];
  for (const part of parts) {
    appendFileSync(path, part);
    readings.push(...(await readAll(log)));
    log.takeLate();
  }
  readings.push(...readingsOf(log.flush()));
  const { newestRejected, repeats, joined, late, problem } = log.status();
  rmSync(path);
  const rejected = newestRejected.map(({ line, why }) => `${line}: ${why}`).reverse();
  return {
    readings,
    read: readings.map(text).join(" "),
    ...(rejected.length > 0 ? { rejected } : {}),
    ...(repeats > 0 ? { repeats } : {}),
    ...(joined > 0 ? { joined } : {}),
    ...(late > 0 ? { late } : {}),
    ...(problem === null ? {} : { problem: problem.replace(`${basename(name)}: `, "") }),
  };
}
