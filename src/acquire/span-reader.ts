import type { Decoder, DecodeState, RowBlock } from "./decode.ts";
import { hasLine } from "./line-ranges.ts";
import { type LogFile, whyUnreadable } from "./log-file.ts";
import type { LogReader } from "./log-reader.ts";
import { type ByteSource, isGzip, openSource } from "./source.ts";
import { type Part, partsWithin } from "./sparse-index.ts";

const pieceBytes = 256 * 1024;
const none: Buffer = Buffer.alloc(0);

/** A part of a log, or what was taken of it past its index: only the first `rows` rows, even an unfinished line. */
interface PartToRead extends Part {
  readonly rows: number;
  readonly final: boolean;
}

/** What of a log can hold rows of a time, as far as `read` has come. */
function partsOf(file: LogFile, fromMs: number, toMs: number): PartToRead[] {
  const parts: PartToRead[] = partsWithin(file.index, fromMs, toMs, !isGzip(file.path)).map((part) => ({
    ...part,
    rows: Number.POSITIVE_INFINITY,
    final: false,
  }));
  if (file.rowsTaken === 0) return parts;
  const { offset } = file.print;
  const endOffset = Number.POSITIVE_INFINITY;
  return [
    ...parts,
    { offset, endOffset, state: file.decode, rows: file.rowsTaken, final: file.taken !== null },
  ];
}

/** The rows of a block for which `wanted` is true. */
function rowsOf(block: RowBlock, wanted: (row: number) => boolean): RowBlock {
  const rows = new Int32Array(block.rows);
  let count = 0;
  for (let row = 0; row < block.rows; row++) if (wanted(row)) rows[count++] = row;
  const pick = (column: Float64Array): Float64Array => {
    const picked = new Float64Array(count);
    for (let i = 0; i < count; i++) picked[i] = column[rows[i]];
    return picked;
  };
  return count === block.rows
    ? { ...block, rejected: [] }
    : {
        ...block,
        rows: count,
        timeMs: pick(block.timeMs),
        line: pick(block.line),
        columns: block.columns.map((column) => column && pick(column)),
        rejected: [],
      };
}

/**
 * Reads the rows of a time from one log that `read` has been through, only the parts of it that can hold
 * them. `onProblem` hears why, and from which
 * offset on, where a part is not there any more.
 */
export function spanReader(
  file: LogFile,
  fromMs: number,
  toMs: number,
  decoder: Decoder,
  onProblem: (why: string, offset: number) => void,
): LogReader {
  const parts = partsOf(file, fromMs, toMs);
  let part: PartToRead | undefined;
  let source: ByteSource | undefined;
  /** The bytes at hand begin here. */
  let offset = 0;
  let state: DecodeState = file.decode;
  let bytes = none;
  let rowsLeft = 0;
  /** What the block at hand was picked from. */
  let whole: RowBlock | undefined;
  /** Rows of the time that were handed on before the reader was parked. */
  let handedOn = 0;

  async function close(): Promise<void> {
    await source?.close();
    source = undefined;
    bytes = none;
  }

  function pass(block: RowBlock): void {
    offset += block.consumed;
    state = block.state;
    rowsLeft -= block.rows;
    // Copied, since the memory that it came in is used again.
    bytes = Buffer.from(bytes.subarray(block.consumed));
    whole = undefined;
    reader.block = undefined;
  }

  /** Whether a row was taken by `read` as far as it has come, and is of the time. */
  function isWanted({ timeMs, line }: RowBlock): (row: number) => boolean {
    const { ahead } = file;
    return (row) =>
      row < rowsLeft &&
      timeMs[row] >= fromMs &&
      timeMs[row] < toMs &&
      (ahead.length === 0 || !hasLine(ahead, line[row]));
  }

  /** The next block of the part at hand; undefined at its end. */
  async function nextBlock({ endOffset, final }: PartToRead): Promise<RowBlock | undefined> {
    while (offset < endOffset && rowsLeft > 0) {
      source ??= await openSource(file.path, offset, Math.min(pieceBytes, endOffset - offset));
      const more = await source.next(bytes);
      if (more === null && final && bytes.length > 0) return decoder.decode(state, bytes, true);
      const here = more?.subarray(0, endOffset - offset);
      const block = here && decoder.decode(state, here, false);
      if (here !== undefined) bytes = here;
      if (block !== undefined && block.consumed > 0) return block;
      if (here === undefined || here.length === endOffset - offset) {
        onProblem("it is shorter than it was", offset);
        return undefined;
      }
    }
    return undefined;
  }

  async function load(): Promise<boolean> {
    try {
      for (;;) {
        if (whole !== undefined) pass(whole);
        if (part === undefined) {
          part = parts.shift();
          if (part === undefined) break;
          ({ offset, state, rows: rowsLeft } = part);
        }
        whole = await nextBlock(part);
        if (whole === undefined) {
          await close();
          part = undefined;
          continue;
        }
        const block = rowsOf(whole, isWanted(whole));
        if (handedOn >= block.rows) {
          handedOn -= block.rows;
          continue;
        }
        reader.block = block;
        reader.at = handedOn;
        reader.nextMs = block.timeMs[handedOn];
        handedOn = 0;
        return true;
      }
    } catch (error) {
      onProblem(whyUnreadable(error), offset);
    }
    await close();
    parts.length = 0;
    part = undefined;
    reader.nextMs = Number.POSITIVE_INFINITY;
    return false;
  }

  const reader: LogReader = {
    file,
    block: undefined,
    at: 0,
    nextMs: Number.NEGATIVE_INFINITY,
    rest: none,
    tellRejected: () => {},
    load,
    async park() {
      if (reader.block !== undefined) handedOn = reader.at;
      reader.block = undefined;
      whole = undefined;
      await close();
    },
  };
  return reader;
}
