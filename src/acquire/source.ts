import { createReadStream } from "node:fs";
import { open } from "node:fs/promises";
import { pipeline } from "node:stream";
import { createGunzip } from "node:zlib";
import { type Ends, endsAfter, fingerprintBytes, noBytes } from "./fingerprint.ts";

/** The bytes of a log from some offset on, a piece at a time. */
export interface ByteSource {
  /**
   * `rest`, the unused end of what was given last, and the next piece behind it; null at the end of what is
   * there. What is given holds only until the next call: its memory is used again.
   */
  next(rest: Buffer): Promise<Buffer | null>;
  close(): Promise<void>;
}

export const isGzip = (path: string): boolean => /\.gz$/i.test(path);

/** Pieces grow up to this size, so that a log's first rows come soon and the rest in few reads. */
const largestPiece = 256 * 1024;

async function plainSource(path: string, offset: number, firstPieceBytes: number): Promise<ByteSource> {
  const handle = await open(path, "r");
  let at = offset;
  let pieceBytes = firstPieceBytes;
  let buffer = Buffer.allocUnsafeSlow(pieceBytes);
  return {
    async next(rest) {
      const needed = rest.length + pieceBytes;
      if (needed > buffer.length) buffer = Buffer.allocUnsafeSlow(2 * needed);
      rest.copy(buffer);
      const { bytesRead } = await handle.read(buffer, rest.length, pieceBytes, at);
      if (bytesRead === 0) return null;
      at += bytesRead;
      pieceBytes = Math.max(pieceBytes, largestPiece);
      return buffer.subarray(0, rest.length + bytesRead);
    },
    close: () => handle.close(),
  };
}

/** A compressed log that is still being written ends early: what is there is read, the rest later. */
function endsEarly(error: unknown): boolean {
  return (error as NodeJS.ErrnoException).code === "Z_BUF_ERROR";
}

function gzipSource(path: string, offset: number): ByteSource {
  const gunzip = createGunzip({ chunkSize: 65_536 });
  const file = createReadStream(path);
  // Errors come out of the iteration below.
  pipeline(file, gunzip, () => {});
  const pieces = gunzip[Symbol.asyncIterator]() as AsyncIterator<Buffer>;
  let skip = offset;
  return {
    async next(rest) {
      for (;;) {
        let result: IteratorResult<Buffer>;
        try {
          result = await pieces.next();
        } catch (error) {
          if (endsEarly(error)) return null;
          throw error;
        }
        if (result.done === true) return null;
        const bytes = result.value;
        if (bytes.length <= skip) {
          skip -= bytes.length;
          continue;
        }
        const piece = bytes.subarray(skip);
        skip = 0;
        return rest.length === 0 ? piece : Buffer.concat([rest, piece]);
      }
    },
    async close() {
      gunzip.destroy();
      file.destroy();
    },
  };
}

/** Opens a log's bytes, decompressed, from `offset` on. Close it before the read ends. */
export async function openSource(path: string, offset: number, firstPieceBytes: number): Promise<ByteSource> {
  return isGzip(path) ? gzipSource(path, offset) : plainSource(path, offset, firstPieceBytes);
}

/** The first bytes of a log, decompressed, at most 4 KiB. */
export async function readHead(path: string): Promise<Buffer> {
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
    const source = await openSource(path, from, offset - from);
    try {
      let tail: Buffer = Buffer.alloc(0);
      while (tail.length < offset - from) {
        const more = await source.next(tail);
        if (more === null) return undefined;
        tail = more;
      }
      return { offset, head: head.subarray(0, offset), tail: tail.subarray(0, offset - from) };
    } finally {
      await source.close();
    }
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
