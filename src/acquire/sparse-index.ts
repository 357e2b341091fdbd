import type { Header } from "./beginning.ts";
import { type DecodeState, newDecodeState, type RowBlock } from "./decode.ts";
import type { TimeMemory } from "./time.ts";

/** Part of a log that decoding can begin at, and the times between which its rows lie. */
export interface Stretch {
  /** Where it begins and how long it is, in (decompressed) bytes. */
  readonly offset: number;
  readonly bytes: number;
  /** Number of its first line. */
  readonly line: number;
  /** The earliest and the latest time of its rows, ms: clocks step back, so any row may have them. */
  readonly fromMs: number;
  readonly toMs: number;
  /** Places in `headers`: the header in force there, and the one lent by the log before; absent for none. */
  readonly header?: number;
  readonly before?: number;
  /** What the reader of local times remembers there; absent where that is nothing. */
  readonly time?: Readonly<TimeMemory>;
  /** It begins inside a line that is too long. */
  readonly skipping?: true;
}

/**
 * Where in a log the readings of a time lie. Plain data that is never changed in place, part of a
 * checkpoint. Stretches stand in the order of the file.
 */
export interface SparseIndex {
  readonly headers: readonly Header[];
  readonly stretches: readonly Stretch[];
}

export const emptyIndex: SparseIndex = { headers: [], stretches: [] };

/** A stretch grows up to this size. Somewhat more than a block, so that twice of it holds two. */
const stretchBytes = 320 * 1024;
/**
 * A log has at most so many stretches, and so have a unit's logs together, beyond one a log. A stretch is
 * at most 160 bytes of JSON, so a unit's index stays under 64 KB besides one stretch and the headers a log.
 */
export const mostStretches = 400;
/** A log of more headers than this gets no new stretch where yet another is in force. */
const mostHeaders = 8;

const sameHeader = (a: Header, b: Header): boolean =>
  a.delimiter === b.delimiter &&
  a.cells.length === b.cells.length &&
  a.cells.every((cell, i) => cell === b.cells[i]);

/** The headers with one more where it is not among them, and its place. */
function withHeader(headers: readonly Header[], header: Header | null): [readonly Header[], number?] {
  if (header === null) return [headers];
  const at = headers.findIndex((known) => sameHeader(known, header));
  return at >= 0 ? [headers, at] : [[...headers, header], headers.length];
}

function newStretch(
  index: SparseIndex,
  offset: number,
  state: DecodeState,
  part: Pick<Stretch, "bytes" | "fromMs" | "toMs">,
): SparseIndex {
  const own = state.header === null ? null : { cells: state.header, delimiter: state.delimiter };
  const [some, header] = withHeader(index.headers, own);
  const [headers, before] = withHeader(some, own === null ? state.before : null);
  const { lastWallMs, secondPass } = state.time;
  const stretch: Stretch = {
    offset,
    line: state.line,
    ...part,
    ...(header === undefined ? {} : { header }),
    ...(before === undefined ? {} : { before }),
    ...(lastWallMs === null && !secondPass ? {} : { time: state.time }),
    ...(state.skipping ? { skipping: true as const } : {}),
  };
  return { headers, stretches: [...index.stretches, stretch] };
}

function joined(a: Stretch, b: Pick<Stretch, "offset" | "bytes" | "fromMs" | "toMs">): Stretch {
  return {
    ...a,
    bytes: b.offset + b.bytes - a.offset,
    fromMs: Math.min(a.fromMs, b.fromMs),
    toMs: Math.max(a.toMs, b.toMs),
  };
}

/** The index with neighbours joined that are no longer than `longestBytes` together. */
function coarser({ headers, stretches }: SparseIndex, longestBytes: number): SparseIndex {
  const fewer: Stretch[] = [];
  for (const stretch of stretches) {
    const last = fewer.at(-1);
    if (last !== undefined && stretch.offset + stretch.bytes - last.offset <= longestBytes) {
      fewer[fewer.length - 1] = joined(last, stretch);
    } else fewer.push(stretch);
  }
  return { headers, stretches: fewer };
}

/** The index after a block of the log more, which begins at `offset`, where decoding stood at `state`. */
export function indexBlock(
  index: SparseIndex,
  offset: number,
  state: DecodeState,
  { rows, timeMs, consumed }: Pick<RowBlock, "rows" | "timeMs" | "consumed">,
): SparseIndex {
  if (rows === 0) return index;
  let fromMs = timeMs[0];
  let toMs = fromMs;
  for (let row = 1; row < rows; row++) {
    const time = timeMs[row];
    if (time < fromMs) fromMs = time;
    else if (time > toMs) toMs = time;
  }
  const part = { offset, bytes: consumed, fromMs, toMs };
  const last = index.stretches.at(-1);
  if (last !== undefined && offset + consumed - last.offset <= stretchBytes) {
    return { ...index, stretches: [...index.stretches.slice(0, -1), joined(last, part)] };
  }
  const longer = newStretch(index, offset, state, part);
  if (last !== undefined && longer.headers.length > mostHeaders) {
    return { ...index, stretches: [...index.stretches.slice(0, -1), joined(last, part)] };
  }
  return longer.stretches.length > mostStretches ? thinned([longer], mostStretches / 2)[0] : longer;
}

/**
 * The indexes of a unit's logs, coarser where they would have more than `most` stretches together beyond
 * one a log. What comes after is noted finely again, so that the newest is found in the fewest bytes.
 */
export function thinned(indexes: readonly SparseIndex[], most = mostStretches): readonly SparseIndex[] {
  const beyondOne = (some: readonly SparseIndex[]): number =>
    some.reduce((sum, { stretches }) => sum + Math.max(0, stretches.length - 1), 0);
  let fewer = indexes;
  for (let bytes = 2 * stretchBytes; beyondOne(fewer) > most; bytes *= 2) {
    fewer = indexes.map((index) => coarser(index, bytes));
  }
  return fewer;
}

/** Where decoding stands at the beginning of a stretch. */
export function stateAt({ headers }: SparseIndex, stretch: Stretch): DecodeState {
  const own = stretch.header === undefined ? undefined : headers[stretch.header];
  const before = stretch.before === undefined ? undefined : headers[stretch.before];
  const state = newDecodeState(before, stretch.time);
  return {
    ...state,
    line: stretch.line,
    header: own?.cells ?? null,
    delimiter: own?.delimiter ?? state.delimiter,
    skipping: stretch.skipping ?? false,
  };
}

/** Part of a log to be read, from where decoding can begin. */
export interface Part {
  readonly offset: number;
  readonly endOffset: number;
  readonly state: DecodeState;
}

/**
 * The parts of a log that can hold rows of `fromMs` and later, but before `toMs`. `apart` false: one part
 * from the first such stretch to the last, for a log that cannot be entered in the middle.
 */
export function partsWithin(index: SparseIndex, fromMs: number, toMs: number, apart: boolean): Part[] {
  const parts: Part[] = [];
  for (const stretch of index.stretches) {
    if (stretch.toMs < fromMs || stretch.fromMs >= toMs) continue;
    const endOffset = stretch.offset + stretch.bytes;
    const last = parts.at(-1);
    if (last !== undefined && (!apart || last.endOffset === stretch.offset)) {
      parts[parts.length - 1] = { ...last, endOffset };
    } else parts.push({ offset: stretch.offset, endOffset, state: stateAt(index, stretch) });
  }
  return parts;
}

/** Between which times, ms, the rows of a log lie in the stretches that end after `offset`; undefined where there are none. */
export function timesOf(
  { headers, stretches }: SparseIndex,
  offset = 0,
): { fromMs: number; toMs: number } | undefined {
  const after = stretches.filter((stretch) => stretch.offset + stretch.bytes > offset);
  const [whole] = coarser({ headers, stretches: after }, Number.POSITIVE_INFINITY).stretches;
  return whole === undefined ? undefined : { fromMs: whole.fromMs, toMs: whole.toMs };
}
