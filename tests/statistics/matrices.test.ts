import fc from "fast-check";
import { expect, test } from "vitest";
import { choleskyInverse } from "../../src/statistics/cholesky.ts";
import { symmetricEigen } from "../../src/statistics/eigen.ts";
import { shrinkCorrelation } from "../../src/statistics/robust-covariance.ts";
import { covarianceOf, problem } from "./covariances.ts";

test("matrix and inverse give the unit matrix; eigenvectors are square to each other and rebuild the matrix", () => {
  fc.assert(
    fc.property(problem, ({ loadings }) => {
      const matrix = covarianceOf(loadings);
      const inverse = choleskyInverse(matrix);
      const { values, vectors } = symmetricEigen(matrix);
      for (let i = 0; i < matrix.length; i++) {
        for (let j = 0; j < matrix.length; j++) {
          const unit = i === j ? 1 : 0;
          const product = matrix[i].reduce((sum, value, k) => sum + value * inverse[k][j], 0);
          expect(product).toBeCloseTo(unit, 7);
          expect(vectors[i].reduce((sum, value, k) => sum + value * vectors[j][k], 0)).toBeCloseTo(unit, 9);
          const rebuilt = values.reduce((sum, value, k) => sum + value * vectors[k][i] * vectors[k][j], 0);
          expect(rebuilt).toBeCloseTo(matrix[i][j], 7);
        }
      }
    }),
  );
});

test("correlations are shrunk just to the limit of condition, or left alone within it", () => {
  const near = shrinkCorrelation(
    [
      [1, 0.9999],
      [0.9999, 1],
    ],
    100,
  );
  const { values } = symmetricEigen(near);
  expect(values[0] / values[1]).toBeCloseTo(100, 6);
  expect(
    shrinkCorrelation(
      [
        [1, 0.5],
        [0.5, 1],
      ],
      100,
    ),
  ).toEqual([
    [1, 0.5],
    [0.5, 1],
  ]);
});
