/**
 * Score interval of a proportion: [low, high], both within 0 to 1. `z` is the normal quantile of the
 * confidence, 1.96 for 95 %. No trials tell nothing: [0, 1].
 * Throws where `successes` is not within 0 to `trials`.
 * Source: E. B. Wilson, "Probable inference, the law of succession, and statistical inference", JASA 22 (1927).
 */
export function wilson(
  successes: number,
  trials: number,
  z = 1.959963984540054,
): [low: number, high: number] {
  if (!(successes >= 0 && successes <= trials)) {
    throw new RangeError(`wilson: ${successes} successes in ${trials} trials`);
  }
  if (trials === 0) return [0, 1];
  const share = successes / trials;
  const z2 = z * z;
  const center = share + z2 / (2 * trials);
  const half = z * Math.sqrt((share * (1 - share)) / trials + z2 / (4 * trials * trials));
  const scale = 1 + z2 / trials;
  return [
    successes === 0 ? 0 : Math.max(0, (center - half) / scale),
    successes === trials ? 1 : Math.min(1, (center + half) / scale),
  ];
}
