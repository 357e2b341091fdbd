import type { LogReader } from "./log-reader.ts";

/** As many logs may lie open with a block in memory before their turn. */
const mostWaiting = 4;

export type TakeRow = (reader: LogReader, row: number) => boolean;

function earliest(readers: readonly LogReader[], but?: LogReader): LogReader | undefined {
  let first: LogReader | undefined;
  for (const reader of readers) {
    if (reader !== but && (first === undefined || reader.nextMs < first.nextMs)) first = reader;
  }
  return first;
}

/**
 * Hands on the rows of several logs by reading time; at one time, the log that comes first in `readers`
 * goes first. Each log keeps its own order. Yields whenever `take` returns true, with every reader's file
 * standing at its next row. Only logs whose time has come are held open.
 */
export async function* mergeByTime(readers: readonly LogReader[], take: TakeRow): AsyncGenerator<void> {
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
        const full = take(reader, reader.at);
        reader.at++;
        reader.file.rowsTaken = reader.at;
        reader.file.takenMs = block.timeMs[reader.at - 1] ?? null;
        if (full) yield;
        if (reader.at < block.rows) reader.nextMs = block.timeMs[reader.at] ?? Number.POSITIVE_INFINITY;
        else more = await reader.load();
      } while (more && !othersTurn(reader.nextMs));
      if (!more) left = left.filter((r) => r !== reader);
    }
  } finally {
    for (const reader of readers) await reader.park();
  }
}
