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
  const squares = sumOf(values, (value) => (value - mean) ** 2);
  const rest = sumOf(values, (value) => value - mean);
  return Math.sqrt(Math.max(0, squares - (rest * rest) / values.length) / (values.length - 1));
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
