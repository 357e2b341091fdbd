/**
 * Inverse of a symmetric positive definite matrix, by its Cholesky factor L (matrix = L Lᵀ); `matrix` stays as
 * it is. Throws where it is not positive definite to working precision: some signal is then a mix of the
 * others.
 * Source: G. H. Golub and C. F. Van Loan, "Matrix Computations", 4.2, from memory.
 */
export function choleskyInverse(matrix: readonly (readonly number[])[]): number[][] {
  const factor = cholesky(matrix);
  return matrix.map((_, column) => solve(factor, column));
}

function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const l = matrix.map((row) => row.map(() => 0));
  for (let i = 0; i < matrix.length; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = matrix[i][j];
      for (let k = 0; k < j; k++) rest -= l[i][k] * l[j][k];
      if (i !== j) l[i][j] = rest / l[j][j];
      else if (rest > matrix[i][i] * 1e-14) l[i][i] = Math.sqrt(rest);
      else throw new RangeError("a covariance is not positive definite; shrink it first");
    }
  }
  return l;
}

/** Solves L Lᵀ x = the unit vector of `column`. */
function solve(l: readonly (readonly number[])[], column: number): number[] {
  const n = l.length;
  const x = l.map((_, i) => (i === column ? 1 : 0));
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] -= l[i][k] * x[k];
    x[i] /= l[i][i];
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] -= l[k][i] * x[k];
    x[i] /= l[i][i];
  }
  return x;
}
