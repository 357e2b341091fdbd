import { closeSync, constants, openSync, readSync, statSync } from "node:fs";
import { type FileHandle, open } from "node:fs/promises";
import { pipeline } from "node:stream";
import { setImmediate as others } from "node:timers/promises";
import { createGunzip } from "node:zlib";
import { type Ends, endsAfter, fingerprintBytes, noBytes } from "./fingerprint.ts";

/** The bytes of a log from some offset on, a piece at a time. */
export interface ByteSource {
  /**
   * `rest`, the unused end of what was given last, and the next piece behind it; null at the end of what is
   * there. What is given holds only until the next call: its memory is used again.
   */
  next(rest: Buffer): Promise<Buffer | null>;
  /** How far into the file as it lies on the disk, compressed or not, has been read. */
  fileBytes(): number;
  close(): Promise<void>;
}

export const isGzip = (path: string): boolean => /\.gz$/i.test(path);

/** A named pipe would hold the opening up until somebody writes into it. */
export const readOnly = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);

/**
 * A compressed log that unpacks to more than this, and to more than so many times what was read of it, is
 * none: logs of a stopped pump, a reading a second, unpack to 10 to 15 times their size (tried).
 */
const mostUnpackedBytes = 256 * 1024 ** 2;
const mostUnpackedTimes = 100;

/** The code of the error that ends the reading of such a log. */
export const unpacksWithoutEnd = "UNPACKS_WITHOUT_END";

/** Pieces grow up to this size, so that a log's first rows come soon and the rest in few reads. */
const largestPiece = 256 * 1024;

async function plainSource(path: string, offset: number, firstPieceBytes: number): Promise<ByteSource> {
  const handle = await open(path, readOnly);
  let at = offset;
  let pieceBytes = firstPieceBytes;
  let buffer = Buffer.allocUnsafe(pieceBytes);
  let full = false;
  return {
    async next(rest) {
      // A piece that was not full was the last, most likely: then there is no need for a larger one.
      if (full) pieceBytes = Math.max(pieceBytes, largestPiece);
      const room = full ? pieceBytes : Math.max(1, Math.min(pieceBytes, buffer.length - rest.length));
      if (rest.length + room > buffer.length)
        buffer = Buffer.allocUnsafeSlow(rest.length + room + pieceBytes);
      rest.copy(buffer);
      const { bytesRead } = await handle.read(buffer, rest.length, room, at);
      if (bytesRead === 0) return null;
      at += bytesRead;
      full = bytesRead === room;
      return buffer.subarray(0, rest.length + bytesRead);
    },
    fileBytes: () => at,
    close: () => handle.close(),
  };
}

/** A compressed log that is still being written ends early: what is there is read, the rest later. */
function endsEarly(error: unknown): boolean {
  return (error as NodeJS.ErrnoException).code === "Z_BUF_ERROR";
}

function gzipSource(handle: FileHandle, offset: number): ByteSource {
  const gunzip = createGunzip({ chunkSize: 65_536 });
  const file = handle.createReadStream();
  // Errors come out of the iteration below.
  pipeline(file, gunzip, () => {});
  const pieces = gunzip[Symbol.asyncIterator]() as AsyncIterator<Buffer>;
  let skip = offset;
  let unpacked = 0;
  return {
    async next(rest) {
      for (;;) {
        if (unpacked > mostUnpackedBytes && unpacked > mostUnpackedTimes * file.bytesRead) {
          throw Object.assign(new Error(unpacksWithoutEnd), { code: unpacksWithoutEnd });
        }
        let result: IteratorResult<Buffer>;
        try {
          result = await pieces.next();
        } catch (error) {
          if (endsEarly(error)) return null;
          throw error;
        }
        if (result.done === true) return null;
        const bytes = result.value;
        unpacked += bytes.length;
        if (bytes.length <= skip) {
          skip -= bytes.length;
          continue;
        }
        const piece = bytes.subarray(skip);
        skip = 0;
        return rest.length === 0 ? piece : Buffer.concat([rest, piece]);
      }
    },
    fileBytes: () => file.bytesRead,
    async close() {
      gunzip.destroy();
      file.destroy();
      await handle.close();
    },
  };
}

/** What has been appended to a log since the last read, most often: little enough to be read at once. */
const smallBytes = 64 * 1024;

/**
 * At most `length` bytes from `offset` on, at once: for so little, handing the work to another thread and
 * back takes ten times as long as the work (1,000 logs a second: 45 % of a core instead of a few).
 */
function readSmall(path: string, offset: number, length: number): Buffer {
  const file = openSync(path, readOnly);
  try {
    const bytes = Buffer.allocUnsafe(length);
    let filled = 0;
    for (let more = -1; more !== 0 && filled < length; filled += more) {
      more = readSync(file, bytes, filled, length - filled, offset + filled);
    }
    return bytes.subarray(0, filled);
  } finally {
    closeSync(file);
  }
}

const turnMs = 20;
let turnEndsMs = 0;

/** Small logs are read at once, so that many of them would hold up all else: a turn for that after so long. */
async function giveTurn(): Promise<void> {
  if (performance.now() < turnEndsMs) return;
  await others();
  turnEndsMs = performance.now() + turnMs;
}

function smallSource(bytes: Buffer, offset: number): ByteSource {
  let given = bytes.length === 0;
  return {
    async next(rest) {
      if (given) return null;
      given = true;
      return rest.length === 0 ? bytes : Buffer.concat([rest, bytes]);
    },
    fileBytes: () => offset + (given ? bytes.length : 0),
    close: async () => {},
  };
}

/** Opens a log's bytes, decompressed, from `offset` on. Close it before the read ends. */
export async function openSource(path: string, offset: number, firstPieceBytes: number): Promise<ByteSource> {
  if (isGzip(path)) return gzipSource(await open(path, readOnly), offset);
  const left = statSync(path).size - offset;
  if (left <= smallBytes) {
    await giveTurn();
    return smallSource(readSmall(path, offset, Math.max(0, left)), offset);
  }
  return plainSource(path, offset, firstPieceBytes);
}

/** The first bytes of a log, decompressed, at most 4 KiB. */
export async function readHead(path: string): Promise<Buffer> {
  if (!isGzip(path)) {
    await giveTurn();
    return readSmall(path, 0, fingerprintBytes);
  }
  const source = await openSource(path, 0, fingerprintBytes);
  try {
    let head: Buffer = Buffer.alloc(0);
    while (head.length < fingerprintBytes) {
      const more = await source.next(head);
      if (more === null) break;
      head = more;
    }
    return head.subarray(0, fingerprintBytes);
  } finally {
    await source.close();
  }
}

/** The ends of a log's first `offset` bytes; undefined where it is shorter. */
export async function readEnds(path: string, head: Buffer, offset: number): Promise<Ends | undefined> {
  if (!isGzip(path)) {
    const from = Math.max(0, offset - fingerprintBytes);
    const tail = readSmall(path, from, offset - from);
    return tail.length < offset - from ? undefined : { offset, head: head.subarray(0, offset), tail };
  }
  const source = await openSource(path, 0, fingerprintBytes);
  try {
    let ends = noBytes;
    while (ends.offset < offset) {
      const piece = await source.next(Buffer.alloc(0));
      if (piece === null) return undefined;
      ends = endsAfter(ends, piece.subarray(0, offset - ends.offset));
    }
    return ends;
  } finally {
    await source.close();
  }
}
