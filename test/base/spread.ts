import fc from "fast-check";

/**
 * Doubles spread evenly from `low` to `high`. `fc.double` is even over the bit patterns instead: every exponent is as
 * likely as the next, so that nearly all it draws between 0 and 1 is too small to matter.
 */
export const spread = (low: number, high: number): fc.Arbitrary<number> =>
  fc.maxSafeNat().map((n) => Math.min(low + (high - low) * (n / Number.MAX_SAFE_INTEGER), high));
