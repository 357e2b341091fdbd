import fc from "fast-check";

/** A covariance of p signals that is positive definite, and a reading. */
export const problem = fc.integer({ min: 2, max: 6 }).chain((p) =>
  fc.record({
    loadings: fc.array(fc.array(fc.integer({ min: -9, max: 9 }), { minLength: p, maxLength: p }), {
      minLength: p,
      maxLength: p,
    }),
    reading: fc.array(fc.integer({ min: -20, max: 20 }), { minLength: p, maxLength: p }),
  }),
);
export function covarianceOf(loadings: number[][]): number[][] {
  return loadings.map((x, i) =>
    loadings.map((y, j) => x.reduce((sum, value, k) => sum + value * y[k], i === j ? 5 : 0)),
  );
}
