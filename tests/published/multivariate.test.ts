import { expect, test } from "vitest";
import { choleskyInverse } from "../../src/statistics/cholesky.ts";
import { symmetricEigen } from "../../src/statistics/eigen.ts";
import {
  hotellingModel,
  newReadingLimit,
  ownReadingLimit,
  tSquared,
} from "../../src/statistics/hotelling.ts";
import { chiSquareQuantile } from "../../src/statistics/quantiles.ts";

test.each([
  [2, 20, 0.05, 7.8793, 5.3614, 5.9915],
  [2, 25, 0.01, 12.2927, 7.8812, 9.2103],
  [3, 50, 0.01, 13.4879, 10.3989, 11.3449],
  [8, 400, 0.01, 20.8717, 19.7865, 20.0902],
])(
  "limits of T² by NIST/SEMATECH e-Handbook 6.5.4.3, worked out apart: %i signals, %i readings, α = %d",
  (p, m, alpha, next, own, chi) => {
    expect(Math.abs(newReadingLimit(p, m, alpha) - next)).toBeLessThan(1e-3);
    expect(Math.abs(ownReadingLimit(p, m, alpha) - own)).toBeLessThan(1e-3);
    expect(Math.abs(chiSquareQuantile(1 - alpha, p) - chi)).toBeLessThan(1e-3);
  },
);

test("Johnson and Wichern, Applied Multivariate Statistical Analysis, example 5.2 (from memory): T² = 9.74 for 20 healthy women's sweat", () => {
  const covariance = [
    [2.879, 10.01, -1.81],
    [10.01, 199.788, -5.64],
    [-1.81, -5.64, 3.628],
  ];
  const model = hotellingModel({ mean: [4, 50, 10], covariance });
  expect(Math.abs(20 * tSquared(model, [4.64, 45.4, 9.965]) - 9.74)).toBeLessThan(0.01);
});

test("the 3 × 3 Hilbert matrix has the whole-numbered inverse of M.-D. Choi, Tricks or treats with the Hilbert matrix (1983, from memory)", () => {
  const inverse = choleskyInverse([1, 2, 3].map((i) => [1, 2, 3].map((j) => 1 / (i + j - 1))));
  const published = [
    [9, -36, 30],
    [-36, 192, -180],
    [30, -180, 180],
  ];
  for (const [i, row] of published.entries()) {
    for (const [j, value] of row.entries()) expect(inverse[i][j]).toBeCloseTo(value, 9);
  }
});

test("Gregory and Karney, A Collection of Matrices for Testing Computational Algorithms (1969, from memory): eigenvalues 10 5 2 1", () => {
  const { values } = symmetricEigen([
    [5, 4, 1, 1],
    [4, 5, 1, 1],
    [1, 1, 4, 2],
    [1, 1, 2, 4],
  ]);
  for (const [i, value] of [10, 5, 2, 1].entries()) expect(values[i]).toBeCloseTo(value, 12);
});

test("the Rosser matrix (1951, from memory), made to be hard: near, equal, opposite and zero eigenvalues", () => {
  const { values } = symmetricEigen([
    [611, 196, -192, 407, -8, -52, -49, 29],
    [196, 899, 113, -192, -71, -43, -8, -44],
    [-192, 113, 899, 196, 61, 49, 8, 52],
    [407, -192, 196, 611, 8, 44, 59, -23],
    [-8, -71, 61, 8, 411, -599, 208, 208],
    [-52, -43, 49, 44, -599, 411, 208, 208],
    [-49, -8, 8, 59, 208, 208, 99, -911],
    [29, -44, 52, -23, 208, 208, -911, 99],
  ]);
  const far = 10 * Math.sqrt(10405);
  const near = 100 * Math.sqrt(26);
  const published = [far, 1020, 510 + near, 1000, 1000, 510 - near, 0, -far];
  for (const [i, value] of published.entries()) expect(values[i]).toBeCloseTo(value, 9);
});
