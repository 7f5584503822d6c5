/** Numerical derivatives of measurement functions. */

/** Steps of a central difference, from a reach to a 512th of it. */
const LEVELS = 19;

/**
 * The derivative of f at 0 by central differences over steps that shrink by √2, extrapolated to a step of 0; of all
 * extrapolations the one that agrees best with its neighbours. Steps that were halved could all be whole half-periods of an f
 * that swings, and agree on 0. `reach` is a step over which f does not bend much.
 *
 * Accuracy: about 1e-12 of f/reach for smooth functions.
 * @source C. J. F. Ridders, Advances in Engineering Software 4 (1982)
 */
export function derivative(f: (step: number) => number, reach: number): number {
  let [best, error] = [Number.NaN, Number.POSITIVE_INFINITY];
  let above: readonly number[] = [];
  for (let level = 0; level < LEVELS; level++) {
    const step = reach / Math.SQRT2 ** level;
    const row = [(f(step) - f(-step)) / (2 * step)];
    for (const [j, there] of above.entries()) {
      const here = row[j] as number;
      const next = here + (here - there) / (2 ** (j + 1) - 1);
      // Nearer to `here` than to `there`, which therefore says how far they agree.
      const apart = Math.abs(next - there);
      if (apart < error) [best, error] = [next, apart];
      row.push(next);
    }
    // Where f is not defined so far away, the extrapolation begins with a smaller step.
    above = row.every(Number.isFinite) ? row : [];
  }
  return best;
}
