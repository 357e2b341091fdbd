import type { Channel } from "../terms/channels.ts";
import type { LogFile } from "./log-file.ts";

const rejectedKept = 100;

interface RejectedRow {
  readonly file: string;
  readonly line: number;
  readonly why: string;
}

/** What became of a unit's rows so far. Plain data, part of a checkpoint. */
export interface Tally {
  readonly counts: { rows: number; repeats: number; joined: number; late: number; rejected: number };
  /** The newest first, at most 100. */
  newestRejected: readonly RejectedRow[];
}

/** What a unit's logs have given so far. */
export interface LogStatus {
  /** The files that are there, as they were given. */
  readonly files: readonly string[];
  /** Rows taken in order; repeats, joined, late and rejected rows are not among them. */
  readonly rows: number;
  readonly repeats: number;
  readonly joined: number;
  readonly late: number;
  readonly rejected: number;
  /** The newest first, at most 100. */
  readonly newestRejected: readonly RejectedRow[];
  /** Why the unit, or one of its files, cannot be read or has nothing to read yet; null where all is well. */
  readonly problem: string | null;
  /** Whether at least one file has given a usable header. */
  readonly readable: boolean;
  /** As the files lie on the disk, also where they are compressed. */
  readonly bytesRead: number;
  readonly bytesTotal: number;
  /** The channels that the logs have a column for. */
  readonly channels: readonly Channel[];
}

export function newTally(saved?: Tally): Tally {
  return {
    counts: { rows: 0, repeats: 0, joined: 0, late: 0, rejected: 0, ...saved?.counts },
    newestRejected: saved?.newestRejected ?? [],
  };
}

/** Counts a rejected row and keeps its reason. */
export function reject(tally: Tally, row: RejectedRow): void {
  tally.counts.rejected++;
  tally.newestRejected = [row, ...tally.newestRejected.slice(0, rejectedKept - 1)];
}

/** Why files that can be read have given no reading. */
function whyNothing(
  { counts: { rows, repeats, joined, late, rejected }, newestRejected }: Tally,
  [first]: readonly LogFile[],
  readable: boolean,
  named: (file: LogFile) => string,
): string | null {
  if (first === undefined || rows + repeats + joined + late > 0) return null;
  const [newest] = newestRejected;
  if (newest !== undefined) {
    return `${named(first)}: none of its ${rejected} rows can be read; line ${newest.line}: ${newest.why}`;
  }
  if (readable) return `${named(first)}: no row so far; waiting for its first reading`;
  const empty = first.seen?.bytes === 0 ? "empty so far" : "no complete header so far";
  return `${named(first)}: ${empty}; waiting for its first line`;
}

/**
 * The status of the logs that are there. `named` is a file's name for people, `bytesRead` how far into a file
 * that is not done has been read, as it lies on the disk.
 */
export function logStatus(
  tally: Tally,
  there: readonly LogFile[],
  channels: readonly Channel[],
  named: (file: LogFile) => string,
  bytesRead: (file: LogFile) => number,
): LogStatus {
  const trouble = there.find((file) => file.trouble !== null || file.decode.problem !== null);
  const readable = there.some((file) => file.decode.header !== null);
  const problem =
    trouble === undefined
      ? whyNothing(tally, there, readable, named)
      : `${named(trouble)}: ${trouble.trouble ?? trouble.decode.problem}`;
  const total = (file: LogFile): number => file.seen?.bytes ?? 0;
  return {
    files: there.map((file) => file.path),
    ...tally.counts,
    newestRejected: tally.newestRejected,
    problem,
    readable,
    bytesRead: there.reduce((sum, f) => sum + (f.done ? total(f) : Math.min(bytesRead(f), total(f))), 0),
    bytesTotal: there.reduce((sum, f) => sum + total(f), 0),
    channels,
  };
}
