/**
 * Linear least squares by Householder reflections. Solving through Q and R costs half as many digits as through the
 * normal equations. Matrices are flat and stored column by column.
 */

/**
 * Turns a matrix into R, its upper triangle, and the right side into Qᵀ·side, both in place; what stands below the
 * triangle is worthless afterwards. The matrix has as many rows as the right side.
 *
 * @source G. H. Golub, numerical methods for solving linear least squares problems, Numerische Mathematik 7 (1965)
 */
export function triangularize(matrix: Float64Array, side: Float64Array, columns: number): void {
  const rows = side.length;
  for (let k = 0; k < columns && k < rows; k++) {
    const own = matrix.subarray(k * rows, (k + 1) * rows);
    const square = dot(own, own, k);
    const pivot = own[k] as number;
    // Away from the pivot, so that their difference does not cancel.
    const diagonal = pivot > 0 ? -Math.sqrt(square) : Math.sqrt(square);
    if (diagonal === 0) continue;
    own[k] = pivot - diagonal;
    const half = square - pivot * diagonal;
    for (let j = k + 1; j < columns; j++) reflect(matrix.subarray(j * rows, (j + 1) * rows), own, k, half);
    reflect(side, own, k, half);
    own[k] = diagonal;
  }
}

function reflect(target: Float64Array, normal: Float64Array, from: number, half: number): void {
  const share = dot(target, normal, from) / half;
  const end = target.length;
  for (let i = from; i < end; i++) target[i] = (target[i] as number) - share * (normal[i] as number);
}

/** The sum of a[i]·b[i] over i from `from` on; four sums at once, so that no addition waits for the one before. */
export function dot(a: Float64Array, b: Float64Array, from = 0): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  const end = a.length;
  let i = from;
  for (; i < end - 3; i += 4) {
    s0 += (a[i] as number) * (b[i] as number);
    s1 += (a[i + 1] as number) * (b[i + 1] as number);
    s2 += (a[i + 2] as number) * (b[i + 2] as number);
    s3 += (a[i + 3] as number) * (b[i + 3] as number);
  }
  for (; i < end; i++) s0 += (a[i] as number) * (b[i] as number);
  return s0 + s1 + (s2 + s3);
}

/** Solves R·out = side, where R is the upper triangle of a matrix with `rows` rows. */
export function backSubstitute(matrix: Float64Array, rows: number, side: Float64Array, out: Float64Array): void {
  for (let i = out.length - 1; i >= 0; i--) {
    let sum = side[i] as number;
    for (let j = i + 1; j < out.length; j++) sum -= (matrix[j * rows + i] as number) * (out[j] as number);
    out[i] = sum / (matrix[i * rows + i] as number);
  }
}

/** (RᵀR)⁻¹ of the upper triangle R: the covariance of the solution where each residual has variance 1. */
export function covarianceOf(matrix: Float64Array, rows: number, columns: number): number[][] {
  const inverse = Array.from({ length: columns }, (_, j) => {
    const [unit, column] = [new Float64Array(columns), new Float64Array(columns)];
    unit[j] = 1;
    backSubstitute(matrix, rows, unit, column);
    return column;
  });
  const indices = [...inverse.keys()];
  return indices.map((i) =>
    indices.map((j) => inverse.reduce((sum, column) => sum + (column[i] as number) * (column[j] as number), 0)),
  );
}
