/** Small symmetric systems with a positive definite matrix, row by row. */

export type Matrix = readonly (readonly number[])[];

/** The sum of products over the length of the first; the second may be longer. */
export function inner(x: readonly number[], y: readonly number[]): number {
  let total = 0;
  for (let i = 0; i < x.length; i++) total += x[i]! * y[i]!;
  return total;
}

/** A vector that is shorter than the rows is filled up with zeros. */
export const times = (matrix: Matrix, x: readonly number[]): number[] => matrix.map((row) => inner(x, row));

/** The inverse, in place, by Gauss–Jordan elimination, which needs no pivoting here. */
export function inverted(matrix: number[][]): Matrix {
  for (const [k, row] of matrix.entries()) {
    const pivot = row[k]!;
    row[k] = 1;
    for (let j = 0; j < row.length; j++) row[j]! /= pivot;
    for (const other of matrix) {
      const factor = other[k]!;
      if (other === row || factor === 0) continue;
      other[k] = 0;
      for (let j = 0; j < row.length; j++) other[j]! -= factor * row[j]!;
    }
  }
  return matrix;
}
