import type { RowBlock } from "./decode.ts";
import type { LogReader } from "./log-reader.ts";

/** As many logs may lie open with a block in memory before their turn. */
const mostWaiting = 4;

/** What becomes of the rows whose turn it is. */
export interface RowTaker {
  /** Takes one row; true where what was taken so far should be handed on first. */
  row(reader: LogReader, row: number): boolean;
  /**
   * Takes as many rows from `from` on, and before `to`, as can go on together and are earlier than
   * `beforeMs`, another log's turn: how many, often none.
   */
  run(reader: LogReader, from: number, to: number, beforeMs: number): number;
}

function earliest(readers: readonly LogReader[], but?: LogReader): LogReader | undefined {
  let first: LogReader | undefined;
  for (const reader of readers) {
    if (reader !== but && (first === undefined || reader.nextMs < first.nextMs)) first = reader;
  }
  return first;
}

/** The row, from `at` on, before which no other log has its turn: the block's end, or `at` where that is not plain to see. */
function turnsEnd({ rows, timeMs }: RowBlock, at: number, other: LogReader | undefined): number {
  return other === undefined || timeMs[rows - 1] < other.nextMs ? rows : at;
}

/**
 * Hands on the rows of several logs by reading time; at one time, the log that comes first in `readers`
 * goes first. Each log keeps its own order. Yields after each run, and whenever `take.row` returns true,
 * with every reader's file standing at its next row: the logs that had a turn since the last time, at first
 * all. Only logs whose time has come are held open.
 */
export async function* mergeByTime(
  readers: readonly LogReader[],
  take: RowTaker,
): AsyncGenerator<ReadonlySet<LogReader>> {
  let turned = new Set(readers);
  let left: LogReader[] = [];
  try {
    for (const reader of readers) {
      if (!(await reader.load())) continue;
      left.push(reader);
      if (left.length > mostWaiting) await reader.park();
    }
    for (;;) {
      const reader = earliest(left);
      if (reader === undefined) return;
      turned.add(reader);
      if (reader.block === undefined && !(await reader.load())) {
        left = left.filter((r) => r !== reader);
        continue;
      }
      const other = earliest(left, reader);
      const othersTurn = (timeMs: number): boolean =>
        other !== undefined &&
        (timeMs > other.nextMs || (timeMs === other.nextMs && left.indexOf(other) < left.indexOf(reader)));
      let more = true;
      do {
        const block = reader.block;
        if (block === undefined) break;
        reader.tellRejected();
        const end = turnsEnd(block, reader.at, other);
        // A clock that steps back at a block's end may have been past the other's turn before.
        const run = take.run(reader, reader.at, end, other?.nextMs ?? Number.POSITIVE_INFINITY);
        const full = run > 0 || take.row(reader, reader.at);
        reader.at += Math.max(run, 1);
        reader.file.rowsTaken = reader.at;
        reader.file.takenMs = block.timeMs[reader.at - 1] ?? null;
        if (run > 0) reader.tellRejected();
        if (full) {
          yield turned;
          turned = new Set([reader]);
        }
        if (reader.at < block.rows) reader.nextMs = block.timeMs[reader.at] ?? Number.POSITIVE_INFINITY;
        else more = await reader.load();
      } while (more && !othersTurn(reader.nextMs));
      if (!more) left = left.filter((r) => r !== reader);
    }
  } finally {
    for (const reader of readers) await reader.park();
  }
}
