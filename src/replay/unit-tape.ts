import { readToEnd } from "../acquire/read-to-end.ts";
import { openUnitLog, type UnitLog, type UnitLogState } from "../acquire/unit-log.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { LateRows, ReadingBatch } from "../terms/batch.ts";

/** One unit's recorded readings, read as far as they are wanted. */
export interface UnitTape {
  /** The rows not taken yet of what is read; null at the end of the recording. */
  readonly batch: ReadingBatch | null;
  /** The first of them. */
  at: number;
  /** Time of the next reading; +∞ at the end, and before the first `load`. */
  nextMs(): number;
  /** Reads on, where all rows are taken. */
  load(): Promise<void>;
  /** Late rows since the last call; charts show them. */
  takeLate(): LateRows | undefined;
  /** What has been read once more, and since when there is anything. */
  readonly past: Pick<UnitLog, "readSpan" | "firstMs">;
  /** Where reading stands, once all rows of a batch are taken and before the next is loaded. */
  save(): UnitLogState;
  close(): Promise<unknown>;
}

/** A unit's recording from its beginning, or from where `saved` stood. Rows after `toMs` are left out. */
export function openTape(
  unit: Unit,
  fleet: Fleet,
  files: readonly string[],
  toMs: number,
  saved?: UnitLogState,
): UnitTape {
  const log = openUnitLog(unit, fleet, { saved, latest: { timeMs: () => toMs } });
  log.setFiles(files);
  const batches = readToEnd(log);
  let batch: ReadingBatch | null = null;
  let at = 0;
  return {
    get batch() {
      return batch;
    },
    get at() {
      return at;
    },
    set at(row) {
      at = row;
    },
    nextMs: () => (batch !== null && at < batch.rows ? batch.timeMs[at] : Number.POSITIVE_INFINITY),
    async load() {
      let next = await batches.next();
      while (!next.done && next.value.rows === 0) next = await batches.next();
      batch = next.done ? null : next.value;
      at = 0;
    },
    takeLate: () => log.takeLate(),
    past: log,
    save: () => log.save(),
    close: () => batches.return(undefined),
  };
}
