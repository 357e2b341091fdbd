import type { Header } from "./beginning.ts";
import { type Decoder, newDecodeState } from "./decode.ts";
import { type LogFile, type Look, lookAt, newLogFile } from "./log-file.ts";
import { type LogReader, logReader } from "./log-reader.ts";
import { carryPasses } from "./passes.ts";
import type { Rejected } from "./row-collector.ts";
import { thinned } from "./sparse-index.ts";
import type { ZoneReader } from "./zone.ts";

/** Logs that have gone and may come back under another name. */
const goneKept = 16;

type Found = Look & { readonly kind: "read" };

/** A unit's log files, and how far each was read. */
export interface UnitFiles {
  /** The files that were there at the last look. */
  now(): readonly LogFile[];
  /** What was read of logs that are not there any more. */
  gone(): readonly LogFile[];
  /** Looks at every path; gives a reader for each log that may have something new. */
  look(
    paths: readonly string[],
    onRejected: (file: string, rejected: Rejected) => void,
  ): Promise<readonly LogReader[]>;
}

const headerOf = ({ decode }: LogFile): Header | null =>
  decode.header === null ? null : { cells: decode.header, delimiter: decode.delimiter };

/** A log that could not be used is looked at anew: the fleet file may tell more of its columns now. */
function again(file: LogFile): LogFile {
  return file.decode.problem === null ? { ...structuredClone(file), done: false } : newLogFile(file.path);
}

export function unitFiles(
  decoder: Decoder,
  zone: ZoneReader,
  saved?: { readonly files: readonly LogFile[]; readonly gone: readonly LogFile[] },
): UnitFiles {
  let files = new Map((saved?.files ?? []).map((file) => [file.path, again(file)]));
  let gone: readonly LogFile[] = structuredClone(saved?.gone ?? []);

  /**
   * Gives each new log the header of the log before it, in case it has none of its own: what its path held
   * before, else that of the first of the unit's logs that has one. Likewise the pass of a repeated hour.
   */
  async function goOn(found: readonly Found[], next: ReadonlyMap<string, LogFile>): Promise<void> {
    const fresh = found.filter(({ file }) => file.print.offset === 0);
    if (fresh.length === 0) return;
    const heads = new Map(found.map(({ file, head }) => [file, head]));
    let first: Header | null = null;
    for (const file of next.values()) {
      const head = heads.get(file);
      first ??= headerOf(file) ?? (head === undefined ? null : decoder.headerIn(head));
    }
    for (const { file } of fresh) {
      const own = files.get(file.path);
      file.decode = newDecodeState(
        (own === undefined ? null : (headerOf(own) ?? own.decode.before)) ?? first,
        own?.decode.time,
      );
    }
    const logs = fresh.map(({ file }) => file);
    await carryPasses(logs, next.values(), heads, decoder, zone);
  }

  /** What was read and is at no path any more, each once, the latest first. */
  function departed(known: readonly LogFile[], next: ReadonlyMap<string, LogFile>): LogFile[] {
    const kept = new Set([...next.values()].map((file) => file.print.tail));
    const left = known.filter(({ print }) => {
      if (print.offset === 0 || kept.has(print.tail)) return false;
      kept.add(print.tail);
      return true;
    });
    return left.slice(0, goneKept);
  }

  function thinIndexes(logs: readonly LogFile[]): void {
    const indexes = thinned(logs.map(({ index }) => index));
    for (const [i, file] of logs.entries()) file.index = indexes[i];
  }

  return {
    now: () => [...files.values()],
    gone: () => gone,
    async look(paths, onRejected) {
      const toRead: Found[] = [];
      const known = [...files.values(), ...gone];
      const next = new Map<string, LogFile>();
      for (const path of paths) {
        const found = await lookAt(path, files.get(path), known);
        if (found.kind === "gone") continue;
        next.set(path, found.file);
        if (found.kind === "read") toRead.push(found);
      }
      await goOn(toRead, next);
      gone = departed(known, next);
      files = next;
      thinIndexes([...files.values(), ...gone]);
      return toRead.map(({ file, ends }) => logReader(file, ends, decoder, onRejected));
    },
  };
}
