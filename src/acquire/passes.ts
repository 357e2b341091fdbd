import type { Decoder } from "./decode.ts";
import { noBytes } from "./fingerprint.ts";
import type { LogFile } from "./log-file.ts";
import { logReader } from "./log-reader.ts";
import type { TimeMemory } from "./time.ts";
import type { ZoneReader } from "./zone.ts";

const dayMs = 86_400_000;

const rotation = (path: string): number => Number(/\.(\d+)(?:\.gz)?$/i.exec(path)?.[1] ?? 0);

/** In the order of writing: by the time of the last change, as a rotation keeps it, then by the rotation's number. */
function byWriting(a: LogFile, b: LogFile): number {
  return (a.seen?.changedMs ?? 0) - (b.seen?.changedMs ?? 0) || rotation(b.path) - rotation(a.path);
}

/** What a reader of times remembers at the end of a log; undefined where it cannot be read, which is told elsewhere. */
async function timeAtEnd(log: LogFile, decoder: Decoder): Promise<TimeMemory | undefined> {
  const file = { ...log };
  const reader = logReader(file, { ...noBytes, offset: file.print.offset }, decoder, () => {});
  let more = true;
  while (more) more = await reader.load();
  return file.trouble === null ? file.decode.time : undefined;
}

/**
 * Lets a new log whose first time lies in a repeated hour go on from the log before it, where that ends in the
 * same hour: whether the clock has stepped back already can be seen only there. The log before it is the last
 * one written of those with the same columns, but no copy of it. `heads` are the first bytes of the logs that
 * have something new.
 */
export async function carryPasses(
  fresh: readonly LogFile[],
  logs: Iterable<LogFile>,
  heads: ReadonlyMap<LogFile, Buffer>,
  decoder: Decoder,
  zone: ZoneReader,
): Promise<void> {
  const headOf = (log: LogFile): Buffer => heads.get(log) ?? Buffer.from(log.print.begins, "base64");
  const firstMs = (log: LogFile, secondPass: boolean): number => {
    const time = { lastWallMs: null, secondPass };
    const block = decoder.decode({ ...log.decode, time }, headOf(log), false);
    return block.rows > 0 ? block.timeMs[0] : Number.NaN;
  };
  const unclear = fresh.filter((log) => firstMs(log, true) > firstMs(log, false));
  if (unclear.length === 0) return;

  const columns = (log: LogFile): string =>
    (log.decode.header ?? decoder.headerIn(headOf(log))?.cells ?? log.decode.before?.cells ?? []).join();
  const isCopy = (a: Buffer, b: Buffer): boolean => {
    const length = Math.min(a.length, b.length);
    return a.subarray(0, length).equals(b.subarray(0, length));
  };
  const written = [...logs].filter(({ seen }) => seen !== null).sort(byWriting);
  for (const log of unclear.toSorted(byWriting)) {
    const before = written
      .slice(0, written.indexOf(log))
      .findLast((other) => columns(other) === columns(log) && !isCopy(headOf(other), headOf(log)));
    const time = before && (await timeAtEnd(before, decoder));
    if (time === undefined || time.lastWallMs === null) continue;
    const last = zone(time.lastWallMs);
    const sameHour = !Number.isNaN(last.second) && Math.abs(last.first - firstMs(log, false)) < dayMs;
    if (sameHour) log.decode = { ...log.decode, time };
  }
}
