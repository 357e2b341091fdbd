const tiny = 1e-300;
/** Two units in the last place: a value may hop between neighbours for ever. */
const settled = 5e-16;
const mostTerms = 10_000;

/**
 * Value of the continued fraction b₀ + a₁/(b₁ + a₂/(b₂ + …)), to double precision.
 * `numerator(n)` gives aₙ for n ≥ 1, `denominator(n)` bₙ for n ≥ 0. Throws where 10,000 terms do not settle it.
 * Source: Lentz's algorithm as modified by I. J. Thompson and A. R. Barnett, "Coulomb and Bessel functions of
 * complex arguments and order", J. Comput. Phys. 64 (1986), from memory.
 */
export function continuedFraction(
  numerator: (n: number) => number,
  denominator: (n: number) => number,
): number {
  let value = denominator(0) || tiny;
  let c = value;
  let d = 0;
  for (let n = 1; n <= mostTerms; n++) {
    const a = numerator(n);
    const b = denominator(n);
    d = 1 / (b + a * d || tiny);
    c = b + a / c || tiny;
    const factor = c * d;
    value *= factor;
    if (Math.abs(factor - 1) < settled) return value;
  }
  throw new RangeError("a continued fraction did not settle");
}
