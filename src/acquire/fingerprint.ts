import { hash } from "node:crypto";

/** How many bytes at the beginning and before the read offset tell one log from another. */
export const fingerprintBytes = 4096;
const rawBytes = 1024;

/**
 * What the bytes of a log before an offset look like, so that the same log is known again under another
 * name, and another log under the same name. Plain data, part of a checkpoint.
 */
export interface Fingerprint {
  /** How many bytes it is about. */
  readonly offset: number;
  /** The first bytes, at most 1 KiB, base64: a copy that is being written again agrees as far as it goes. */
  readonly begins: string;
  /** Hash of the first bytes, at most 4 KiB. */
  readonly head: string;
  /** Hash of the last bytes before the offset, at most 4 KiB. */
  readonly tail: string;
}

/** The bytes that a fingerprint is made of, kept while a log is read. */
export interface Ends {
  readonly offset: number;
  readonly head: Buffer;
  readonly tail: Buffer;
}

export const noBytes: Ends = { offset: 0, head: Buffer.alloc(0), tail: Buffer.alloc(0) };

const short = (bytes: Buffer): string => hash("sha1", bytes, "hex").slice(0, 16);

/** The ends after `bytes` more. */
export function endsAfter(ends: Ends, bytes: Buffer): Ends {
  if (bytes.length === 0) return ends;
  const more = fingerprintBytes - ends.head.length;
  return {
    offset: ends.offset + bytes.length,
    head: more > 0 ? Buffer.concat([ends.head, bytes.subarray(0, more)]) : ends.head,
    tail:
      bytes.length >= fingerprintBytes
        ? Buffer.from(bytes.subarray(-fingerprintBytes))
        : Buffer.concat([ends.tail, bytes]).subarray(-fingerprintBytes),
  };
}

export function fingerprintOf(ends: Ends): Fingerprint {
  return {
    offset: ends.offset,
    begins: ends.head.subarray(0, rawBytes).toString("base64"),
    head: short(ends.head),
    tail: short(ends.tail),
  };
}

/** Whether a log that begins with `head` begins like the fingerprint's, and is long enough to go on from it. */
export function headAgrees(print: Fingerprint, head: Buffer): boolean {
  const length = Math.min(print.offset, fingerprintBytes);
  return head.length >= length && short(head.subarray(0, length)) === print.head;
}

export function tailAgrees(print: Fingerprint, tail: Buffer): boolean {
  return tail.length === Math.min(print.offset, fingerprintBytes) && short(tail) === print.tail;
}

/** Whether all of a shorter log could be a beginning of the fingerprint's, as far as that can be told. */
export function couldBeBeginning(print: Fingerprint, head: Buffer): boolean {
  const begins = Buffer.from(print.begins, "base64");
  const length = Math.min(begins.length, head.length);
  return begins.subarray(0, length).equals(head.subarray(0, length));
}
