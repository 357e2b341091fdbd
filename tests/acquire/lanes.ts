import { vi } from "vitest";
import * as quickLane from "../../src/acquire/decode.ts";
import { zoneReader } from "../../src/acquire/zone.ts";
import type { ColumnMap, Unit } from "../../src/fleet/unit.ts";
import { unitWith } from "./workbench.ts";

/** A decoder that leaves every row to csv-parse: the same modules without the quick lane. */
async function withoutQuickLane(): Promise<typeof quickLane> {
  vi.resetModules();
  vi.doMock("../../src/acquire/plain-rows.ts", () => ({ plainRows: () => undefined }));
  const decode = await import("../../src/acquire/decode.ts");
  vi.doUnmock("../../src/acquire/plain-rows.ts");
  vi.resetModules();
  return decode;
}

const lanes = { quick: quickLane, careful: await withoutQuickLane() };
export type Lane = keyof typeof lanes;

/** Every row and rejected row of a log, in the order of its lines, and where decoding stands after it. */
export interface Decoded {
  /** Line, time and every signal's value of each row, as bits: equal only where equal to the last one. */
  readonly rows: readonly string[];
  readonly rejected: readonly string[];
  readonly state: quickLane.DecodeState;
}

const { unit } = unitWith("/nowhere");
const decoders = new Map<string, Map<ColumnMap, quickLane.Decoder>>();

/** One decoder for each lane, zone and column map, since reading a zone's rules takes long. */
function decoderOf(lane: Lane, columns: ColumnMap = unit.columns, timezone: string): quickLane.Decoder {
  const key = `${lane} ${timezone}`;
  const known = decoders.get(key) ?? new Map<ColumnMap, quickLane.Decoder>();
  decoders.set(key, known);
  const mapped: Unit = { ...unit, columns };
  const decoder = known.get(columns) ?? lanes[lane].createDecoder(mapped, timezone, zoneReader(timezone));
  known.set(columns, decoder);
  return decoder;
}

const bits = new DataView(new ArrayBuffer(8));

/** A number to the last bit: −0 is not 0, and every NaN is one missing value. */
function bitsOf(value: number): string {
  bits.setFloat64(0, Number.isNaN(value) ? Number.NaN : value);
  return `${value}/${bits.getBigUint64(0).toString(16)}`;
}

/** Decodes a log that comes in these pieces; what a call leaves is given again with the next piece. */
export function decodeIn(
  lane: Lane,
  pieces: readonly Buffer[],
  { columns, timezone = "UTC" }: { readonly columns?: ColumnMap; readonly timezone?: string } = {},
): Decoded {
  const decoder = decoderOf(lane, columns, timezone);
  const rows: string[] = [];
  const rejected: string[] = [];
  let state = quickLane.newDecodeState();
  const space = decoder.newSpace();
  let rest = Buffer.alloc(0);
  for (const [i, piece] of [...pieces, Buffer.alloc(0)].entries()) {
    rest = Buffer.concat([rest, piece]);
    const block = decoder.decode(state, rest, i === pieces.length, space);
    for (let row = 0; row < block.rows; row++) {
      const values = block.columns.map((column) => bitsOf(column?.[row] ?? Number.NaN));
      rows.push([block.line[row], bitsOf(block.timeMs[row] ?? Number.NaN), ...values].join(" "));
    }
    for (const { line, why, beforeRow } of block.rejected) {
      rejected.push(`${line} before row ${rows.length - block.rows + beforeRow}: ${why}`);
    }
    rest = rest.subarray(block.consumed);
    state = block.state;
  }
  return { rows, rejected, state };
}
