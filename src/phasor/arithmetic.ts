import { finite } from "../base/check.js";
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import { checkPhasor, exponentOf, made, nonzero, type Phasor, timesPowerOfTwo } from "./phasor.js";

/**
 * The sum a + b.
 *
 * @throws A {@link InputError} for phasors that are not finite and for a sum beyond the range of a double.
 * Accuracy: correctly rounded in each part.
 * @source definition
 *
 * @example
 * import { add, polar } from "tripwright/phasor";
 * add(polar(1, 0), polar(1, 180)); // → { re: 0, im: 0 }
 */
export function add(a: Phasor, b: Phasor): Phasor {
  checkBoth(a, b);
  return made(a.re + b.re, a.im + b.im, "a sum");
}

/**
 * The difference a − b.
 *
 * @throws A {@link InputError} for phasors that are not finite and for a difference beyond the range of a double.
 * Accuracy: correctly rounded in each part.
 * @source definition
 *
 * @example
 * import { magnitude, polar, subtract } from "tripwright/phasor";
 * magnitude(subtract(polar(100, 0), polar(100, 180))); // → 200
 */
export function subtract(a: Phasor, b: Phasor): Phasor {
  checkBoth(a, b);
  return made(a.re - b.re, a.im - b.im, "a difference");
}

/**
 * The product a · b: magnitudes multiply, angles add.
 *
 * @throws A {@link InputError} for phasors that are not finite and for a product beyond the range of a double.
 * Accuracy: 4e-16 of the magnitude.
 * @source definition
 *
 * @example
 * import { multiply } from "tripwright/phasor";
 * multiply({ re: 0, im: 2 }, { re: 0, im: 3 }); // → { re: -6, im: 0 }
 */
export function multiply(a: Phasor, b: Phasor): Phasor {
  checkBoth(a, b);
  return product(a, b);
}

/** The product of checked phasors; at the end of the range a part may fit where a partial product does not. */
export function product(a: Phasor, b: Phasor): Phasor {
  const [re, im] = [a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re];
  if (Number.isFinite(re) && Number.isFinite(im)) return { re: re + 0, im: im + 0 };
  return productOver(a, b, ONE);
}

export const ONE: Phasor = { re: 1, im: 0 };

/**
 * The quotient a / b: magnitudes divide, angles subtract.
 *
 * @throws A {@link InputError} where b is zero, for phasors that are not finite, for a quotient beyond the range of a
 * double.
 * Accuracy: 2e-15 of the magnitude, also near the ends of the range of a double.
 * @source definition, both operands scaled by powers of two first
 *
 * @example
 * import { divide } from "tripwright/phasor";
 * divide({ re: 120, im: 0 }, { re: 0, im: 40 }); // → { re: 0, im: -3 }
 */
export function divide(a: Phasor, b: Phasor): Phasor {
  checkBoth(a, b);
  return productOver(a, ONE, nonzero(b, "b"));
}

/** p · q / r of checked phasors: every one is brought near 1 by a power of two, which rounds nothing. */
export function productOver(p: Phasor, q: Phasor, r: Phasor): Phasor {
  const [a, b, c] = [near1(p), near1(q), near1(r)];
  const [re, im] = [a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re];
  const square = c.re * c.re + c.im * c.im;
  const up = a.up + b.up - c.up;
  return made(
    timesPowerOfTwo((re * c.re + im * c.im) / square, up),
    timesPowerOfTwo((im * c.re - re * c.im) / square, up),
    "a result",
  );
}

/** A phasor brought near 1 by a power of two. */
export function near1(p: Phasor): Phasor & { readonly up: number } {
  const up = exponentOf(p);
  return { re: timesPowerOfTwo(p.re, -up), im: timesPowerOfTwo(p.im, -up), up };
}

/**
 * Every part times a real factor; a negative factor turns the phasor round.
 *
 * @throws A {@link InputError} for values that are not finite and for a result beyond the range of a double.
 * Accuracy: correctly rounded in each part.
 * @source definition
 *
 * @example
 * import { scale } from "tripwright/phasor";
 * scale({ re: 3, im: -4 }, -2); // → { re: -6, im: 8 }
 */
export function scale(p: Phasor, factor: number): Phasor {
  checkPhasor(p, "p");
  finite(factor, "factor", "a factor");
  return made(p.re * factor, p.im * factor, "a product");
}

/**
 * The phasor turned round: −p.
 *
 * @throws A {@link InputError} for a phasor that is not finite.
 * Accuracy: exact.
 * @source definition
 *
 * @example
 * import { negate } from "tripwright/phasor";
 * negate({ re: 3, im: 0 }); // → { re: -3, im: 0 }
 */
export function negate(p: Phasor): Phasor {
  checkPhasor(p, "p");
  return made(-p.re, -p.im, "a phasor");
}

/**
 * The complex conjugate: the same magnitude at the negative angle.
 *
 * @throws A {@link InputError} for a phasor that is not finite.
 * Accuracy: exact.
 * @source definition
 *
 * @example
 * import { conjugate } from "tripwright/phasor";
 * conjugate({ re: 3, im: 4 }); // → { re: 3, im: -4 }
 */
export function conjugate(p: Phasor): Phasor {
  checkPhasor(p, "p");
  return made(p.re, -p.im, "a phasor");
}

/**
 * The phasor turned by an angle, positive = leading; a quarter turn is exact.
 *
 * @throws A {@link InputError} for values that are not finite and for a result beyond the range of a double.
 * Accuracy: 4e-16 of the magnitude.
 * @source definition
 *
 * @example
 * import { rotate } from "tripwright/phasor";
 * rotate({ re: 3, im: 4 }, 90); // → { re: -4, im: 3 }
 */
export function rotate(p: Phasor, degrees: Degrees): Phasor {
  checkPhasor(p, "p");
  finite(degrees, "degrees", "an angle in degrees");
  const [cos, sin] = [cosDegrees(degrees), sinDegrees(degrees)];
  return made(p.re * cos - p.im * sin, p.re * sin + p.im * cos, "a turned phasor");
}

function checkBoth(a: Phasor, b: Phasor): void {
  checkPhasor(a, "a");
  checkPhasor(b, "b");
}
