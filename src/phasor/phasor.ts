import { fail, finite, object } from "../base/check.js";
import { within } from "../base/input-error.js";

/** A complex quantity in rectangular form, magnitudes rms. */
export interface Phasor {
  readonly re: number;
  readonly im: number;
}

/** Makes a phasor; −0 does not come out, and neither does anything that is not finite. */
export function made(re: number, im: number, operation: string): Phasor {
  if (Number.isFinite(re) && Number.isFinite(im)) return { re: re + 0, im: im + 0 };
  return fail("out-of-range", "", `${operation} within the range of a double`, `${re} + j${im}`);
}

/** Checks one phasor argument. */
export function checkPhasor(p: Phasor, path: string): Phasor {
  return within(path, () => {
    object(p, "", "a phasor { re, im }");
    finite(p.re, "re", "a real part");
    finite(p.im, "im", "an imaginary part");
    return p;
  });
}

/** A checked phasor that has a direction, and by which one may divide. */
export const nonzero = (p: Phasor, path: string): Phasor =>
  p.re === 0 && p.im === 0 ? fail("out-of-range", path, "a phasor other than 0", p) : p;

/** The exponent e for which 2^−e brings the larger part near 1; scaling by a power of two rounds nothing. 0 for zero. */
export function exponentOf({ re, im }: Phasor): number {
  const larger = Math.max(Math.abs(re), Math.abs(im));
  return larger === 0 ? 0 : Math.floor(Math.log2(larger));
}

/** x · 2^exponent in two steps, since 2^exponent alone may leave the range of a double where the product does not. */
export function timesPowerOfTwo(x: number, exponent: number): number {
  const half = Math.trunc(exponent / 2);
  return x * 2 ** half * 2 ** (exponent - half);
}
