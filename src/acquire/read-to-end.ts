import type { ReadingBatch } from "../terms/batch.ts";
import type { UnitLog } from "./unit-log.ts";

/**
 * Everything of logs that nobody writes on: the batches of `read`, and what is held back at their end. A batch holds
 * until the next is asked for, and may be empty.
 */
export async function* readToEnd(log: UnitLog): AsyncGenerator<ReadingBatch> {
  yield* log.read();
  const rest = log.flush();
  if (rest !== undefined) yield rest;
}
