import { appendFileSync, rmSync } from "node:fs";
import type { Channel } from "../../src/terms/channels.ts";
import { openLog, type Reading, readAll, readingsOf, write } from "./workbench.ts";

/** What comes of a log. What is not there did not happen. */
export interface Outcome {
  /** The motor currents in order, A, to five digits; `–` where one is missing. */
  readonly read: string;
  /** The times of those readings, where the log is about them. */
  readonly times?: readonly string[];
  /** Other channels of those readings, likewise. */
  readonly also?: Readonly<Partial<Record<Channel, string>>>;
  /** The rejected rows as `line: reason`, in the order of the file. */
  readonly rejected?: readonly string[];
  readonly repeats?: number;
  readonly joined?: number;
  readonly late?: number;
  /** What the unit's screen and `check` say of the log. */
  readonly problem?: string;
}

const valuesOf = (readings: readonly Reading[], channel: string): string =>
  readings
    .map(({ [channel]: value }) => (value === undefined ? "–" : Number(Number(value).toPrecision(5))))
    .join(" ");

/** Reads a log that is written in the given parts, one read after each, and in the end what is left. */
export async function outcomeOf(
  folder: string,
  name: string,
  parts: readonly Buffer[],
  like: Outcome,
): Promise<Outcome> {
  const path = write(folder, name, "");
  const log = openLog(folder, { timezone: "America/Chicago" });
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
  const channels = Object.keys(like.also ?? {});
  return {
    read: valuesOf(readings, "motor_current"),
    ...(like.times && { times: readings.map(({ time }) => time) }),
    ...(like.also && { also: Object.fromEntries(channels.map((c) => [c, valuesOf(readings, c)])) }),
    ...(newestRejected.length > 0 && {
      rejected: newestRejected.map(({ line, why }) => `${line}: ${why}`).reverse(),
    }),
    ...(repeats > 0 && { repeats }),
    ...(joined > 0 && { joined }),
    ...(late > 0 && { late }),
    ...(problem !== null && { problem: problem.replace(`${name}: `, "") }),
  };
}
