import { open, stat } from "node:fs/promises";
import { batchBuilder } from "../acquire/batch-builder.ts";
import { createDecoder, type DecodeState, newDecodeState } from "../acquire/decode.ts";
import { newOrder, orderRow, releaseHeld } from "../acquire/order.ts";
import { isGzip, readOnly } from "../acquire/source.ts";
import { zoneReader } from "../acquire/zone.ts";
import { signalsOf } from "../fleet/signals.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";

/** So much of a log's end is read: some hours of a reading every 10 s; of each log of a large fleet less, so that all stand on the screen in a second. */
const mostEndBytes = 64 * 1024;
const fewestEndBytes = 4 * 1024;
const fleetEndBytes = 4 * 1024 * 1024;
/** A header is mostly within so much; one further down than the longer is not looked for here. */
const headBytes = [1024, 16 * 1024] as const;
const newline = 0x0a;

/** Which file's end was read, and how the file was then. */
export interface EndOf {
  readonly path: string;
  readonly bytes: number;
  readonly changedMs: number;
}

/** The newest readings of a unit, in order; `rows` may be 0. */
export interface LogEnd {
  readonly of: EndOf;
  readonly batch: ReadingBatch;
}

/** The file of a unit's that was written last, compressed ones left out: their end is known only once all is unpacked. */
export async function newestLog(paths: readonly string[]): Promise<EndOf | undefined> {
  let newest: EndOf | undefined;
  for (const path of paths) {
    if (isGzip(path)) continue;
    const found = await stat(path).catch(() => undefined);
    if (found === undefined || !found.isFile() || found.size === 0) continue;
    if (newest === undefined || found.mtimeMs > newest.changedMs)
      newest = { path, bytes: found.size, changedMs: found.mtimeMs };
  }
  return newest;
}

/**
 * Reads the end of one log under the header at its beginning, rows after `latestMs` left out. Only for a first
 * look: a header in the middle of the log, or the second pass of a repeated local hour, stands before what is
 * read and is not seen. Undefined where the log has no header of its own. Throws what the file system throws.
 */
export async function readLogEnd(
  of: EndOf,
  unit: Unit,
  fleet: Fleet,
  latestMs: number,
): Promise<LogEnd | undefined> {
  const decoder = createDecoder(unit, fleet.timezone, zoneReader(fleet.timezone));
  const share = Math.max(fewestEndBytes, fleetEndBytes / fleet.units.length);
  const fromByte = Math.max(0, of.bytes - Math.min(mostEndBytes, Math.floor(share)));
  const [head, end] = await pieces(of.path, fromByte === 0 ? 0 : headBytes[1], fromByte, of.bytes);
  let state: DecodeState = newDecodeState();
  let at = 0;
  if (fromByte > 0) {
    for (const length of headBytes) {
      ({ state } = decoder.decode(newDecodeState(), head.subarray(0, length), false));
      if (state.header !== null) break;
    }
    if (state.header === null || state.problem !== null) return undefined;
    state = { ...state, time: newDecodeState().time, skipping: false };
    at = end.indexOf(newline) + 1;
    if (at === 0) return undefined;
  }
  const block = decoder.decode(state, end.subarray(at), false);
  if (block.state.header === null) return undefined;

  const order = newOrder();
  const signals = signalsOf(unit).length;
  const batch = batchBuilder(signals);
  const values = new Float64Array(signals);
  for (let row = 0; row < block.rows; row++) {
    if (block.timeMs[row] > latestMs) continue;
    for (let s = 0; s < signals; s++) values[s] = block.columns[s]?.[row] ?? Number.NaN;
    orderRow(order, fleet.orderWithinMs, block.timeMs[row], values, batch.add);
  }
  releaseHeld(order, batch.add);
  const present = new Set(decoder.layout(block.state)?.columns.map(({ signal }) => signal));
  return { of, batch: batch.take(present) };
}

/** The first `headLength` bytes of a file, and those from `from` up to `to`. */
async function pieces(path: string, headLength: number, from: number, to: number): Promise<[Buffer, Buffer]> {
  const handle = await open(path, readOnly);
  try {
    const read = async (at: number, length: number): Promise<Buffer> => {
      const { buffer, bytesRead } = await handle.read(Buffer.allocUnsafe(length), 0, length, at);
      return buffer.subarray(0, bytesRead);
    };
    return [await read(0, headLength), await read(from, to - from)];
  } finally {
    await handle.close();
  }
}
