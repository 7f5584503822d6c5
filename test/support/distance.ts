/** How far two doubles lie apart, counted in units in the last place of the second (Infinity against Infinity is 0). */
export function ulps(actual: number, expected: number): number {
  if (Object.is(actual, expected) || actual === expected) return 0;
  return Math.abs(actual - expected) / ulpOf(expected);
}

/** The spacing of doubles at x. The logarithm may round up to the next power of two, which would double it. */
export function ulpOf(x: number): number {
  const size = Math.abs(x);
  if (size < 2 ** -1022) return 2 ** -1074;
  const exponent = Math.floor(Math.log2(size));
  return 2 ** ((2 ** exponent > size ? exponent - 1 : exponent) - 52);
}
