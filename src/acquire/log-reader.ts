import type { Decoder, RowBlock } from "./decode.ts";
import { type Ends, endsAfter, fingerprintOf } from "./fingerprint.ts";
import { isFinal, type LogFile, whyUnreadable } from "./log-file.ts";
import type { Rejected } from "./row-collector.ts";
import { type ByteSource, openSource } from "./source.ts";
import { indexBlock } from "./sparse-index.ts";

const firstPieceBytes = 16 * 1024;

/** Reads one log file's rows from where it stands; `file` is kept so that it can be left at any row. */
export interface LogReader {
  readonly file: LogFile;
  /** The rows at hand; undefined at the end and while parked. */
  block: RowBlock | undefined;
  /** The next row of the block. */
  at: number;
  /** Time of the next row, ms; −∞ before the first load, +∞ at the end. */
  nextMs: number;
  /** The bytes after the last complete record, once the end was reached. */
  rest: Buffer;
  /** How far into the file as it lies on the disk has been read. */
  fileBytes?(): number;
  /** Tells of the rejected rows that stand before the next row. */
  tellRejected(): void;
  /** Goes on to a block with a row to take; false at the end. */
  load(): Promise<boolean>;
  /** Lets go of the block and the open file; `load` goes on at the same row. */
  park(): Promise<void>;
}

/** Whether the line that was taken without its line end has been completed as it stood. */
function completedAsTaken(taken: string, bytes: Buffer): boolean {
  const line = Buffer.from(taken, "base64");
  if (line.includes(0x22) || !bytes.subarray(0, line.length).equals(line)) return false;
  const after = bytes.subarray(line.length, line.length + 2).toString("latin1");
  return after.startsWith("\n") || after === "\r\n";
}

/** `onRejected` hears of each rejected row once, also over a checkpoint. */
export function logReader(
  given: LogFile,
  from: Ends,
  decoder: Decoder,
  onRejected: (file: string, rejected: Rejected) => void,
): LogReader {
  let space = decoder.newSpace();
  let source: ByteSource | undefined;
  let ends = from;
  let bytes: Buffer = Buffer.alloc(0);
  let furthest = 0;

  function tellRejected(): void {
    const { block, file, at } = reader;
    for (;;) {
      const rejected = block?.rejected[file.rejectedTaken];
      if (rejected === undefined || rejected.beforeRow > at) return;
      onRejected(file.path, rejected);
      file.rejectedTaken++;
    }
  }

  /** The block has been used up: the file stands after it. */
  function commit(block: RowBlock): void {
    tellRejected();
    const { index, decode } = reader.file;
    reader.file.index = indexBlock(index, ends.offset, decode, block);
    ends = endsAfter(ends, bytes.subarray(0, block.consumed));
    // Copied, since the memory that it came in is used again.
    bytes = Buffer.from(bytes.subarray(block.consumed));
    reader.file.print = fingerprintOf(ends);
    reader.file.decode = block.state;
    // After a checkpoint the same rows may come in smaller blocks.
    reader.file.rowsTaken = Math.max(0, reader.file.rowsTaken - block.rows);
    reader.file.rejectedTaken = Math.max(0, reader.file.rejectedTaken - block.rejected.length);
    if (reader.file.rowsTaken === 0) reader.file.takenMs = null;
    reader.file.taken = null;
    reader.block = undefined;
  }

  async function end(): Promise<false> {
    await source?.close();
    source = undefined;
    reader.rest = bytes;
    reader.block = undefined;
    space = decoder.newSpace();
    reader.nextMs = Number.POSITIVE_INFINITY;
    reader.file.done = true;
    return false;
  }

  function decode(): RowBlock | undefined {
    const { file } = reader;
    const block = decoder.decode(file.decode, bytes, false, space);
    if (block.consumed === 0) return undefined;
    const here = file.rowsTaken > 0 && file.rowsTaken <= block.rows;
    const another = here && block.timeMs[file.rowsTaken - 1] !== file.takenMs;
    if (another || (file.taken !== null && !completedAsTaken(file.taken, bytes))) {
      file.rowsTaken = 0;
      file.rejectedTaken = 0;
    }
    file.taken = null;
    return block;
  }

  async function load(): Promise<boolean> {
    const { file } = reader;
    try {
      source ??= await openSource(file.path, ends.offset, firstPieceBytes);
      for (;;) {
        if (reader.block !== undefined) commit(reader.block);
        if (file.decode.problem !== null) return await end();
        const more = await source.next(bytes);
        if (more === null) return await end();
        bytes = more;
        const block = decode();
        if (block === undefined) continue;
        reader.block = block;
        reader.at = file.rowsTaken;
        if (reader.at < block.rows) {
          reader.nextMs = block.timeMs[reader.at] ?? Number.POSITIVE_INFINITY;
          return true;
        }
      }
    } catch (error) {
      file.trouble = whyUnreadable(error);
      await end();
      file.done = isFinal(error);
      reader.rest = Buffer.alloc(0);
      return false;
    }
  }

  const reader: LogReader = {
    file: given,
    block: undefined,
    at: 0,
    nextMs: Number.NEGATIVE_INFINITY,
    rest: Buffer.alloc(0),
    // A compressed log that is opened again is unpacked from its beginning once more.
    fileBytes: () => {
      furthest = Math.max(furthest, source?.fileBytes() ?? 0);
      return furthest;
    },
    tellRejected,
    load,
    async park() {
      await source?.close();
      source = undefined;
      if (reader.block === undefined) return;
      reader.block = undefined;
      space = decoder.newSpace();
      bytes = Buffer.alloc(0);
    },
  };
  return reader;
}
