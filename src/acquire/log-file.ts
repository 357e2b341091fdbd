import { statSync } from "node:fs";
import { type DecodeState, newDecodeState } from "./decode.ts";
import {
  couldBeBeginning,
  type Ends,
  type Fingerprint,
  fingerprintOf,
  headAgrees,
  noBytes,
  tailAgrees,
} from "./fingerprint.ts";
import type { LineRanges } from "./line-ranges.ts";
import { isGzip, readEnds, readHead, unpacksWithoutEnd } from "./source.ts";
import { emptyIndex, type SparseIndex } from "./sparse-index.ts";

/** A file as it was when last looked at. */
interface Seen {
  readonly bytes: number;
  readonly changedMs: number;
  readonly inode: number;
}

/** How far one log file was read. Plain data, part of a checkpoint. */
export interface LogFile {
  readonly path: string;
  /** Null where it must be looked at again however it looks. */
  seen: Seen | null;
  /** The (decompressed) bytes up to the record that comes next, and what they look like. */
  print: Fingerprint;
  /** Decoding at that offset. */
  decode: DecodeState;
  /** Where in the bytes before that offset the rows of a time lie. */
  index: SparseIndex;
  /** Lines whose rows were left out, since their time was ahead. */
  ahead: LineRanges;
  /** Rows and rejected rows after that offset that have been handed on already. */
  rowsTaken: number;
  rejectedTaken: number;
  /** Time of the last of those rows, ms: where another stands there, none of them counts as taken. */
  takenMs: number | null;
  /** The last line without line end, base64, that was taken as a row; null where there is none. */
  taken: string | null;
  /** Why it cannot be read; tried again at the next read. */
  trouble: string | null;
  /** Nothing is left to read until it changes. */
  done: boolean;
}

export function newLogFile(path: string): LogFile {
  return {
    path,
    seen: null,
    print: fingerprintOf(noBytes),
    decode: newDecodeState(),
    index: emptyIndex,
    ahead: [],
    rowsTaken: 0,
    rejectedTaken: 0,
    takenMs: null,
    taken: null,
    trouble: null,
    done: false,
  };
}

const notRegular = "NOT_REGULAR";

/** Whether there is no use in trying again until the file changes. */
export const isFinal = (error: unknown): boolean =>
  (error as NodeJS.ErrnoException).code === unpacksWithoutEnd;

/** Why a log file could not be opened or read, in plain words. */
export function whyUnreadable(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  switch (code) {
    case "EACCES":
    case "EPERM":
      return "no permission to read it; give this user read access";
    case "EISDIR":
      return "it is a folder, not a log; name a file";
    case "ELOOP":
      return "it is a link that leads in a circle; point it at the log";
    case notRegular:
      return "it is a pipe or a device, not a log; name a file";
    case unpacksWithoutEnd:
      return "it unpacks to more than 256 MiB and 100 times its size, as no log does, so no more of it is read; compress the log again, or give it as plain .csv";
    case "EMFILE":
    case "ENFILE":
      return "too many open files; raise the limit (ulimit -n)";
    case "Z_DATA_ERROR":
      return `it cannot be decompressed (${message}); compress it again`;
    default:
      return `it cannot be read (${code ?? message})`;
  }
}

/** What a look at a path found. */
export type Look =
  | { readonly kind: "gone" }
  | { readonly kind: "unchanged"; readonly file: LogFile }
  | { readonly kind: "unreadable"; readonly file: LogFile }
  | { readonly kind: "read"; readonly file: LogFile; readonly ends: Ends; readonly head: Buffer };

/**
 * Looks at a path and says from where its log is to be read on: from where `known` (what this path or any
 * other of the unit's held before) stopped, where the bytes before agree; from the beginning where none
 * does. A log that has become shorter but begins as before is being written again: it is waited for.
 */
export async function lookAt(
  path: string,
  own: LogFile | undefined,
  known: readonly LogFile[],
): Promise<Look> {
  let seen: Seen;
  try {
    const found = statSync(path);
    seen = { bytes: found.size, changedMs: found.mtimeMs, inode: found.ino };
    if (found.isDirectory()) throw Object.assign(new Error("folder"), { code: "EISDIR" });
    if (!found.isFile()) throw Object.assign(new Error("no file"), { code: notRegular });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return { kind: "gone" };
    return {
      kind: "unreadable",
      file: { ...(own ?? newLogFile(path)), seen: null, trouble: whyUnreadable(error) },
    };
  }
  const before = own?.seen;
  if (
    own?.done === true &&
    before !== null &&
    before !== undefined &&
    before.bytes === seen.bytes &&
    before.changedMs === seen.changedMs &&
    before.inode === seen.inode
  ) {
    return { kind: "unchanged", file: own };
  }
  try {
    return await identify(path, seen, own, known);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return { kind: "gone" };
    const trouble = whyUnreadable(error);
    const before = own ?? newLogFile(path);
    return isFinal(error)
      ? { kind: "unchanged", file: { ...before, seen, trouble, done: true } }
      : { kind: "unreadable", file: { ...before, seen: null, trouble } };
  }
}

async function identify(
  path: string,
  seen: Seen,
  own: LogFile | undefined,
  known: readonly LogFile[],
): Promise<Look> {
  const head = await readHead(path);
  const others = known.filter((file) => file !== own).sort((a, b) => b.print.offset - a.print.offset);
  for (const file of own === undefined ? others : [own, ...others]) {
    if (file.print.offset === 0 || !headAgrees(file.print, head)) continue;
    const ends = await readEnds(path, head, file.print.offset);
    if (ends === undefined || !tailAgrees(file.print, ends.tail)) continue;
    return { kind: "read", file: { ...file, path, seen, trouble: null, done: false }, ends, head };
  }
  const shorter =
    own !== undefined && own.print.offset > 0 && (isGzip(path) || seen.bytes < own.print.offset);
  if (shorter && couldBeBeginning(own.print, head) && head.length < own.print.offset) {
    return { kind: "unchanged", file: { ...own, seen, trouble: null, done: true } };
  }
  if (own !== undefined && own.print.offset === 0) {
    // Nothing to know it by yet: the time of the last row taken tells whether it is the same.
    return { kind: "read", file: { ...own, seen, trouble: null, done: false }, ends: noBytes, head };
  }
  return { kind: "read", file: { ...newLogFile(path), seen }, ends: noBytes, head };
}
