import { deflateRawSync, inflateRawSync } from "node:zlib";

/** One signal of a unit over consecutive spans of time, a value a span; NaN where it had no reading in one. */
export interface SignalSummary {
  /** Its place in `signalsOf` the unit. */
  readonly signal: number;
  readonly min: Float32Array;
  readonly mean: Float32Array;
  readonly max: Float32Array;
}

const parts = ["min", "mean", "max"] as const;

/**
 * Summaries of equal length as bytes: how many signals, their places, then a column each of min, mean and max
 * in the processor's order of bytes; deflated, which leaves a third, since loggers write few digits.
 */
export function pack(summaries: readonly SignalSummary[]): Uint8Array {
  const columns = summaries.flatMap((summary) => parts.map((part) => summary[part]));
  return deflateRawSync(
    Buffer.concat([
      Uint8Array.of(summaries.length, ...summaries.map(({ signal }) => signal)),
      ...columns.map(({ buffer, byteOffset, byteLength }) => new Uint8Array(buffer, byteOffset, byteLength)),
    ]),
  );
}

/** The summaries of `pack`'s bytes. */
export function unpack(bytes: Uint8Array): SignalSummary[] {
  const plain = inflateRawSync(bytes);
  const count = plain[0] ?? 0;
  // A copy, since columns of floats must begin at a multiple of four.
  const values = new Float32Array(Uint8Array.from(plain.subarray(1 + count)).buffer);
  const slots = count === 0 ? 0 : values.length / parts.length / count;
  const column = (place: number): Float32Array => values.subarray(place * slots, (place + 1) * slots);
  return [...plain.subarray(1, 1 + count)].map((signal, i) => ({
    signal,
    min: column(3 * i),
    mean: column(3 * i + 1),
    max: column(3 * i + 2),
  }));
}

/** A signal without readings over so many spans. */
export function emptySummary(signal: number, slots: number): SignalSummary {
  const empty = (): Float32Array => new Float32Array(slots).fill(Number.NaN);
  return { signal, min: empty(), mean: empty(), max: empty() };
}

/** Writes what `from` has over `into`, `from`'s first span coming to `into`'s `offset`; outside it is left out. */
export function layOver(into: SignalSummary, from: SignalSummary, offset: number): void {
  const first = Math.max(0, -offset);
  const end = Math.min(from.mean.length, into.mean.length - offset);
  for (const part of parts) {
    for (let slot = first; slot < end; slot++) {
      const value = from[part][slot] ?? Number.NaN;
      if (!Number.isNaN(value)) into[part][slot + offset] = value;
    }
  }
}
