/**
 * Mean and deviation in two passes: the second takes the mean off first, so that nothing cancels, and corrects for what
 * the mean itself was rounded by. One pass over squares loses all digits where the readings differ in their last ones.
 *
 * @source T. F. Chan, G. H. Golub and R. J. LeVeque, The American Statistician 37 (1983)
 */

/** The arithmetic mean. Readings are taken from the first one, whose size would else swallow their differences. */
export function meanOf(values: readonly number[]): number {
  const first = values[0] as number;
  return first + sumOf(values, (value) => value - first) / values.length;
}

/** The standard deviation of a sample, of n − 1 degrees of freedom. */
export function deviation(values: readonly number[], mean: number): number {
  const unit = unitOf(values.map((value) => value - mean));
  const squares = sumOf(values, (value) => ((value - mean) / unit) ** 2);
  const rest = sumOf(values, (value) => (value - mean) / unit);
  return unit * Math.sqrt(Math.max(0, squares - (rest * rest) / values.length) / (values.length - 1));
}

/**
 * The power of two at the largest of some sizes: in units of it no square leaves the range of a double, and none of them is
 * rounded anew. 1 where all are 0.
 */
export function unitOf(sizes: readonly number[]): number {
  const largest = sizes.reduce((most, size) => Math.max(most, Math.abs(size)), 0);
  return largest === 0 ? 1 : 2 ** Math.floor(Math.log2(largest));
}

/** √(Σ x²), also where the squares themselves leave the range of a double. */
export function rootOfSquares(values: readonly number[]): number {
  const unit = unitOf(values);
  return unit * Math.sqrt(sumOf(values, (value) => (value / unit) ** 2));
}

/** A sum that keeps what each addition is rounded by, after A. Neumaier, ZAMM 54 (1974). */
export function sumOf(values: readonly number[], term: (value: number, i: number) => number): number {
  let [sum, lost] = [0, 0];
  for (let i = 0; i < values.length; i++) {
    const next = term(values[i] as number, i);
    const total = sum + next;
    lost += Math.abs(sum) >= Math.abs(next) ? sum - total + next : next - total + sum;
    sum = total;
  }
  return sum + lost;
}
