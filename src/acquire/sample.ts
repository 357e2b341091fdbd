import { stat } from "node:fs/promises";
import { medianSorted } from "simple-statistics";
import { type Header, readToHeader, widestHeader } from "./beginning.ts";
import { bytesFrom, firstRows } from "./inspect.ts";
import { isGzip } from "./source.ts";
import { newTimeMemory, readTime } from "./time.ts";
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

const beginningBytes = 64 * 1024;
const placeBytes = 16 * 1024;
/** So much of a compressed log is unpacked. */
const unpackedBytes = 1024 * 1024;
const mostRows = 400;

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
  const complete = whole ? bytes : bytes.subarray(0, bytes.lastIndexOf(0x0a) + 1);
  const places = [complete.subarray(consumed), ...(whole ? [] : await furtherPlaces(path))];
  const stretches = places.map((place) => {
    const rows = firstRows(place, header, 0, Number.POSITIVE_INFINITY);
    const full = rows.filter(({ length }) => length === header.cells.length);
    return place === places[0] && places.length > 1 ? full.slice(0, mostRows) : full;
  });
  const rows = stretches.flat();
  if (rows.length === 0) return "it has a header and no row yet that is as wide";
  const zone = zoneReader("UTC");
  const time = timeColumnOf(header.cells, rows.slice(0, 100), zone, "UTC");
  if (typeof time === "string") return time;
  const timesMs = stretches.map((stretch) => {
    const memory = newTimeMemory();
    return stretch.map((row) => readTime((row[time.index] ?? "").trim(), zone, memory));
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
