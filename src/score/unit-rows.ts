import { readToEnd } from "../acquire/read-to-end.ts";
import { openUnitLog } from "../acquire/unit-log.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";

/**
 * A unit's logs read through once, as the rules get them: in order of time, repeats once, late rows left out. A
 * batch holds until the next is asked for.
 */
export async function* unitRows(
  unit: Unit,
  fleet: Fleet,
  files: readonly string[],
): AsyncGenerator<ReadingBatch> {
  const log = openUnitLog(unit, fleet);
  log.setFiles(files);
  for await (const batch of readToEnd(log)) {
    yield batch;
    log.takeLate();
  }
}
