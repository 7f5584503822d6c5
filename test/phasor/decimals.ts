/** Complex arithmetic in 50-digit decimals, for what the tests of this folder compare with. */
import { type ComplexReference, D, modulus, type Reference } from "../base/reference.js";

export const plus = (...terms: readonly ComplexReference[]): ComplexReference =>
  terms.reduce((p, q) => ({ re: p.re.plus(q.re), im: p.im.plus(q.im) }));

export const minus = (p: ComplexReference, q: ComplexReference): ComplexReference => ({
  re: p.re.minus(q.re),
  im: p.im.minus(q.im),
});

export const times = (p: ComplexReference, q: ComplexReference): ComplexReference => ({
  re: p.re.times(q.re).minus(p.im.times(q.im)),
  im: p.re.times(q.im).plus(p.im.times(q.re)),
});

export function over(p: ComplexReference, q: ComplexReference): ComplexReference {
  const { re, im } = times(p, { re: q.re, im: q.im.neg() });
  const square = q.re.pow(2).plus(q.im.pow(2));
  return { re: re.div(square), im: im.div(square) };
}

export const real = (x: number): ComplexReference => ({ re: new D(x), im: new D(0) });

/** A turn of 120°, and one of 240°. */
export const ALPHA: ComplexReference = { re: new D(-0.5), im: new D(3).sqrt().div(2) };
export const ALPHA_SQUARED: ComplexReference = { re: new D(-0.5), im: new D(3).sqrt().div(-2) };

export const largest = (...phasors: readonly ComplexReference[]): Reference => D.max(...phasors.map(modulus));
