export interface Eigen {
  /** Descending. */
  readonly values: readonly number[];
  /** `vectors[k]` has length 1 and belongs to `values[k]`. */
  readonly vectors: readonly (readonly number[])[];
}

const mostSweeps = 50;

/**
 * Eigenvalues and eigenvectors of a symmetric matrix, for a dozen signals or so; `matrix` stays as it is.
 * Source: cyclic Jacobi method, G. H. Golub and C. F. Van Loan, "Matrix Computations", 8.5, from memory.
 */
export function symmetricEigen(matrix: readonly (readonly number[])[]): Eigen {
  const n = matrix.length;
  const a = matrix.map((row) => [...row]);
  const vectors = matrix.map((_, i) => matrix.map((_, j) => (i === j ? 1 : 0)));
  for (let sweep = 0; sweep < mostSweeps; sweep++) {
    let moved = false;
    for (let p = 0; p < n - 1; p++) {
      for (let q = p + 1; q < n; q++) {
        if (Math.abs(a[p][q]) <= 1e-17 * Math.sqrt(Math.abs(a[p][p] * a[q][q]))) continue;
        moved = true;
        rotate(a, vectors, p, q);
      }
    }
    if (!moved) break;
  }
  const order = a.map((_, i) => i).sort((i, j) => a[j][j] - a[i][i]);
  return { values: order.map((i) => a[i][i]), vectors: order.map((i) => vectors[i]) };
}

/** Turns the axes p and q so that they no longer vary together. */
function rotate(a: number[][], vectors: number[][], p: number, q: number): void {
  const tau = (a[q][q] - a[p][p]) / (2 * a[p][q]);
  const t = (tau >= 0 ? 1 : -1) / (Math.abs(tau) + Math.sqrt(1 + tau * tau));
  const c = 1 / Math.sqrt(1 + t * t);
  const s = t * c;
  for (const row of a) [row[p], row[q]] = [c * row[p] - s * row[q], s * row[p] + c * row[q]];
  for (const rows of [a, vectors]) {
    for (let k = 0; k < rows.length; k++) {
      const [x, y] = [rows[p][k], rows[q][k]];
      rows[p][k] = c * x - s * y;
      rows[q][k] = s * x + c * y;
    }
  }
  a[p][q] = 0;
  a[q][p] = 0;
}
