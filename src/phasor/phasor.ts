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
