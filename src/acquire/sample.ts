import { stat } from "node:fs/promises";
import { medianSorted } from "simple-statistics";
import { type Header, readToHeader, widestHeader } from "./beginning.ts";
import { cellsOf } from "./csv.ts";
import { bytesFrom, firstRows } from "./inspect.ts";
import { isGzip } from "./source.ts";
import { newTimeMemory, readTime } from "./time.ts";
import { timeCell } from "./time-cell.ts";
import { type TimeColumn, timeColumnOf } from "./time-column.ts";
import { zoneReader } from "./zone.ts";

/** What a few places of a log show: its beginning, its middle and its end. */
export interface LogSample extends Header {
  readonly time: TimeColumn;
  /** Rows that stand one after another, in the order of the file. */
  readonly stretches: readonly (readonly (readonly string[])[])[];
  /** Times of each stretch's rows, ms; NaN where a row has none. */
  readonly timesMs: readonly (readonly number[])[];
}

/** A header is looked for in so much; a log of no more is read whole. */
const beginningBytes = 64 * 1024;
const placeBytes = 16 * 1024;
/** So much of a compressed log is unpacked. */
const unpackedBytes = 1024 * 1024;

/** Places after the beginning, each from a line's beginning on. */
async function furtherPlaces(path: string): Promise<Buffer[]> {
  const fromLine = (bytes: Buffer) => bytes.subarray(bytes.indexOf(0x0a) + 1);
  if (isGzip(path)) {
    const bytes = await bytesFrom(path, 0, unpackedBytes);
    return bytes.length > beginningBytes + placeBytes ? [fromLine(bytes.subarray(-placeBytes))] : [];
  }
  const { size } = await stat(path);
  const places = [Math.floor(size / 2), size - placeBytes].filter((place) => place > beginningBytes);
  return Promise.all(
    places.map(async (place) => fromLine((await bytesFrom(path, place, placeBytes)).subarray(0, placeBytes))),
  );
}

/** Reads a few places of a log, so many bytes however large it is; a sentence where it is none. Throws what the file system throws. */
export async function sampleLog(path: string): Promise<LogSample | string> {
  const bytes = await bytesFrom(path, 0, beginningBytes);
  if (bytes.length === 0) return "it is empty; write a header and rows into it";
  const whole = bytes.length < beginningBytes;
  const { consumed, layout: header, problem } = readToHeader(bytes, 1, widestHeader, true);
  if (header === undefined) return problem ?? "it has no header; write one like time,motor_current_a,ozone";
  const beginning = bytes.subarray(consumed, whole ? bytes.length : consumed + placeBytes);
  const toLineEnd = whole ? beginning : beginning.subarray(0, beginning.lastIndexOf(0x0a) + 1);
  const places = [toLineEnd, ...(whole ? [] : await furtherPlaces(path))];
  const stretches = places.map((place) => {
    // All at once is far quicker; line by line goes on where a quote is stray.
    const atOnce = cellsOf(place, header);
    const rows = typeof atOnce === "string" ? firstRows(place, header, 0, Number.POSITIVE_INFINITY) : atOnce;
    return rows.filter(({ length, 0: first }) => length === header.cells.length && !first?.startsWith("#"));
  });
  const rows = stretches.flat();
  if (rows.length === 0) return "it has a header and no row yet that is as wide";
  const zone = zoneReader("UTC");
  const time = timeColumnOf(header.cells, rows, zone, "UTC");
  if (typeof time === "string") return time;
  const timesMs = stretches.map((stretch) => {
    const memory = newTimeMemory();
    return stretch.map((row) =>
      readTime(
        timeCell(row, { time: time.index, date: time.date }).trim(),
        zone,
        memory,
        time.dateOrder?.order,
      ),
    );
  });
  return { ...header, time, stretches, timesMs };
}

/** First and last reading time of a sample, and the median step between its readings, ms; NaN where it has none. */
export function timesOf({ timesMs }: LogSample): { fromMs: number; toMs: number; stepMs: number } {
  const known = timesMs.flat().filter((ms) => !Number.isNaN(ms));
  const steps = timesMs.flatMap((times) =>
    times.flatMap((ms, i) => (i > 0 && ms > (times[i - 1] ?? ms) ? ms - (times[i - 1] ?? ms) : [])),
  );
  return {
    fromMs: known.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
    toMs: known.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
    stepMs: steps.length === 0 ? Number.NaN : medianSorted(steps.sort((a, b) => a - b)),
  };
}
