/** Whether correlations between pairs of quantities can be at the same time. */

/** A pair of quantities, by their places, and how they go together. */
export interface Pair {
  readonly places: readonly [number, number];
  readonly coefficient: number;
}

/** Coefficients are typed to two digits. Each is off by half of the last at the most, and an eigenvalue by as much of every other. */
const ROUNDED = 0.005;

/**
 * Whether no combination of the quantities has a variance below 0, whatever their uncertainties and sensitivities: the
 * matrix of the coefficients has no eigenvalue below 0, but for what is rounded off them.
 *
 * @source Sylvester's law of inertia: the pivots of an elimination are positive where all eigenvalues are
 */
export function canCorrelate(pairs: readonly Pair[]): boolean {
  const places = [...new Set(pairs.flatMap((pair) => pair.places))];
  const matrix = places.map((_, i) => places.map((_, j) => (i === j ? 1 + ROUNDED * places.length : 0)));
  for (const { places: of, coefficient } of pairs) {
    const [i, j] = of.map((place) => places.indexOf(place)) as [number, number];
    (matrix[i] as number[])[j] = coefficient;
    (matrix[j] as number[])[i] = coefficient;
  }
  return matrix.every((row, k) => {
    const pivot = row[k] as number;
    for (const below of matrix.slice(k + 1)) {
      const share = (below[k] as number) / pivot;
      for (let j = k; j < row.length; j++) below[j] = (below[j] as number) - share * (row[j] as number);
    }
    return pivot > 0;
  });
}
