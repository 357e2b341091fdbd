import { createReadStream } from "node:fs";
import { open } from "node:fs/promises";
import { pipeline } from "node:stream";
import { createGunzip } from "node:zlib";
import { type Ends, endsAfter, fingerprintBytes, noBytes } from "./fingerprint.ts";

/** The bytes of a log from some offset on, a piece at a time. */
export interface ByteSource {
  /** The next piece; null at the end of what is there. */
  next(): Promise<Buffer | null>;
  close(): Promise<void>;
}

export const isGzip = (path: string): boolean => /\.gz$/i.test(path);

async function plainSource(path: string, offset: number, pieceBytes: number): Promise<ByteSource> {
  const handle = await open(path, "r");
  let at = offset;
  return {
    async next() {
      const buffer = Buffer.allocUnsafe(pieceBytes);
      const { bytesRead } = await handle.read(buffer, 0, pieceBytes, at);
      if (bytesRead === 0) return null;
      at += bytesRead;
      return buffer.subarray(0, bytesRead);
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
    async next() {
      for (;;) {
        let piece: IteratorResult<Buffer>;
        try {
          piece = await pieces.next();
        } catch (error) {
          if (endsEarly(error)) return null;
          throw error;
        }
        if (piece.done === true) return null;
        const bytes = piece.value;
        if (bytes.length <= skip) {
          skip -= bytes.length;
          continue;
        }
        const rest = bytes.subarray(skip);
        skip = 0;
        return rest;
      }
    },
    async close() {
      gunzip.destroy();
      file.destroy();
    },
  };
}

/** Opens a log's bytes, decompressed, from `offset` on. Close it before the read ends. */
export async function openSource(path: string, offset: number, pieceBytes: number): Promise<ByteSource> {
  return isGzip(path) ? gzipSource(path, offset) : plainSource(path, offset, pieceBytes);
}

/** The first bytes of a log, decompressed, at most 4 KiB. */
export async function readHead(path: string): Promise<Buffer> {
  const source = await openSource(path, 0, fingerprintBytes);
  try {
    let head = Buffer.alloc(0);
    while (head.length < fingerprintBytes) {
      const piece = await source.next();
      if (piece === null) break;
      head = Buffer.concat([head, piece]);
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
      let tail = Buffer.alloc(0);
      while (tail.length < offset - from) {
        const piece = await source.next();
        if (piece === null) return undefined;
        tail = Buffer.concat([tail, piece]);
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
      const piece = await source.next();
      if (piece === null) return undefined;
      ends = endsAfter(ends, piece.subarray(0, offset - ends.offset));
    }
    return ends;
  } finally {
    await source.close();
  }
}
