/** Repeatable chance: the same seed gives the same numbers on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Uniform in [from, to). */
  between(from: number, to: number): number;
  /** Mean 0, standard deviation 1, never beyond ±6. */
  normal(): number;
}

/**
 * A generator for one 32-bit seed.
 *
 * Source: mulberry32 (Tommy Ettinger, public domain). Normal numbers are the sum of twelve uniform
 * ones less six (Irwin–Hall), which needs no logarithm or cosine and so keeps its last bit anywhere.
 */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform,
    between: (from, to) => from + (to - from) * uniform(),
    normal() {
      let sum = -6;
      for (let i = 0; i < 12; i++) sum += uniform();
      return sum;
    },
  };
}

/** A seed of its own for part `index` of something seeded with `seed`. */
export function partSeed(seed: number, index: number): number {
  return (Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) + Math.imul(index + 1, 0xc2b2ae35)) >>> 0;
}

/** One of some things, by chance; there must be one. */
export function oneOf<Thing>(things: readonly Thing[], random: Random): Thing {
  return things[Math.floor(random.uniform() * things.length)];
}
