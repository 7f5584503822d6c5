/**
 * Reference values at 50 digits, taken at exactly the doubles that the code is given: the reference and the code answer
 * the same question, so that what lies between them is the rounding of the code alone.
 */
import { Decimal } from "decimal.js";
import { ulpOf } from "../support/distance.js";

/** Decimals at 50 digits; a clone, so that no other test can change its settings. */
export const D = Decimal.clone({ defaults: true, precision: 50 });
/** A reference value. */
export type Reference = Decimal;

export const PI: Reference = D.acos(-1);
export const SQRT2: Reference = new D(2).sqrt();

/** What a double is, not the shortest decimal that reads back as it: all its digits where it is huge, else 100. */
export function exactly(x: number): Reference {
  return new D(Math.abs(x) >= 1e21 ? BigInt(x).toString() : x.toPrecision(100));
}

const Long = D.clone({ precision: 400 });

/** The exact remainder of any double over 360, which may need all the 309 digits of a huge one. */
export const turned = (degrees: number): Reference => new D(new Long(exactly(degrees)).mod(360));

/** The sine, by way of the distance to the nearest multiple of 180°, so that its zeros are zeros. */
export function sineOf(degrees: Reference): Reference {
  const halfTurns = degrees.div(180).round();
  const sine = D.sin(degrees.minus(halfTurns.times(180)).times(PI).div(180));
  return halfTurns.mod(2).isZero() ? sine : sine.neg();
}

export const cosineOf = (degrees: Reference): Reference => sineOf(degrees.plus(90));

/** How far a double lies from its reference, in units in the last place of the reference. */
export function ulpsOff(actual: number, reference: Reference): number {
  return exactly(actual)
    .minus(reference)
    .abs()
    .div(exactly(ulpOf(reference.toNumber())))
    .toNumber();
}

/** A complex reference value. */
export interface ComplexReference {
  readonly re: Reference;
  readonly im: Reference;
}

export const complex = ({ re, im }: { readonly re: number; readonly im: number }): ComplexReference => ({
  re: exactly(re),
  im: exactly(im),
});

export const modulus = ({ re, im }: ComplexReference): Reference => re.pow(2).plus(im.pow(2)).sqrt();

/** How far a phasor lies from its reference: the length of the difference. */
export function gap(actual: { readonly re: number; readonly im: number }, reference: ComplexReference): Reference {
  const { re, im } = complex(actual);
  return modulus({ re: re.minus(reference.re), im: im.minus(reference.im) });
}
