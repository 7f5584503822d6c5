/**
 * M^alpha − 1 without the cancellation near M = 1. M − 1 is exact in doubles from 1/2 to 2 and rounds once above, so
 * that everything after it is well conditioned; the common exponents 1 and 2 need no logarithm. Where M^alpha is far
 * from 1 nothing cancels, and the power itself is the more accurate way.
 */
export function powerMinusOne(multiple: number, alpha: number): number {
  const beyond = multiple - 1;
  if (alpha === 1) return beyond;
  if (alpha === 2) return beyond * (multiple + 1);
  const exponent = alpha * (multiple > 0.5 ? Math.log1p(beyond) : Math.log(multiple));
  return Math.abs(exponent) < 1 ? Math.expm1(exponent) : multiple ** alpha - 1;
}
