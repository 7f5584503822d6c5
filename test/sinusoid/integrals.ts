/**
 * Sinusoids at 50 digits. A wave is taken apart into complex exponentials, and each integral is the difference of its
 * antiderivative at the ends; what cancels there does not matter with so many digits.
 */
import fc from "fast-check";
import type { Sinusoid } from "tripwright/sinusoid";
import { type ComplexReference, cosineOf, D, exactly, PI, type Reference, SQRT2, sineOf } from "../base/reference.js";
import { spread } from "../base/spread.js";

/** at · exp(−rate · t), turned by hertz · t cycles; the wave is the sum of the real parts. */
interface Term {
  readonly at: ComplexReference;
  readonly rate: Reference;
  readonly hertz: Reference;
}

const ZERO: Reference = new D(0);

const times = (a: ComplexReference, b: ComplexReference): ComplexReference => ({
  re: a.re.times(b.re).minus(a.im.times(b.im)),
  im: a.re.times(b.im).plus(a.im.times(b.re)),
});

const arrow = (length: Reference, degrees: Reference): ComplexReference => ({
  re: length.times(cosineOf(degrees.mod(360))),
  im: length.times(sineOf(degrees.mod(360))),
});

function termsOf({ rms, frequency, angle = 0, offset = 0, decay, harmonics = [] }: Sinusoid): Term[] {
  const waves = [{ order: 1, rms, angle }, ...harmonics].map((wave) => ({
    at: arrow(SQRT2.times(exactly(wave.rms)), exactly(wave.angle ?? 0)),
    rate: ZERO,
    hertz: exactly(wave.order).times(exactly(frequency)),
  }));
  const direct = [{ at: { re: exactly(offset), im: ZERO }, rate: ZERO, hertz: ZERO }];
  if (decay === undefined) return [...waves, ...direct];
  const rate = new D(1).div(exactly(decay.tau));
  return [...waves, ...direct, { at: { re: exactly(decay.initial), im: ZERO }, rate, hertz: ZERO }];
}

const product = (a: Term, b: Term, mirror: 1 | -1): Term => ({
  at: times(a.at, { re: b.at.re, im: b.at.im.times(mirror) }),
  rate: a.rate.plus(b.rate),
  hertz: a.hertz.plus(b.hertz.times(mirror)),
});

/** What the term is at t. */
const termAt = ({ at, rate, hertz }: Term, t: Reference): ComplexReference =>
  times(at, arrow(D.exp(rate.times(t).neg()), hertz.times(t).times(360)));

function integral(term: Term, from: Reference, to: Reference): Reference {
  const [x, y] = [term.rate.neg(), term.hertz.times(PI).times(2)];
  if (x.isZero() && y.isZero()) return term.at.re.times(to.minus(from));
  const square = x.pow(2).plus(y.pow(2));
  const inverse = { re: x.div(square), im: y.neg().div(square) };
  const at = (t: Reference): Reference => times(termAt(term, t), inverse).re;
  return at(to).minus(at(from));
}

const sum = (list: readonly Reference[]): Reference => list.reduce((total, x) => total.plus(x), ZERO);

/** Rms and mean over a window, and the sum of the peaks of all parts, to which errors are compared. */
export function overWindow(wave: Sinusoid, window: { readonly from: number; readonly to: number }) {
  const terms = termsOf(wave);
  const [from, to] = [exactly(window.from), exactly(window.to)];
  const width = to.minus(from);
  const squares = terms.flatMap((a) =>
    terms.flatMap((b) => [integral(product(a, b, 1), from, to), integral(product(a, b, -1), from, to)]),
  );
  return {
    rms: sum(squares).div(2).div(width).sqrt(),
    mean: sum(terms.map((term) => integral(term, from, to))).div(width),
    peaks: sum(terms.map(({ at: { re, im } }) => re.pow(2).plus(im.pow(2)).sqrt())),
  };
}

/** Value, slope and bend of a wave at t, from its formula. */
export function near(wave: Sinusoid, t: Reference) {
  const derivatives = termsOf(wave).map((term) => {
    const speed = { re: term.rate.neg(), im: term.hertz.times(PI).times(2) };
    const value = termAt(term, t);
    const slope = times(value, speed);
    return [value.re, slope.re, times(slope, speed).re] as const;
  });
  const [value, slope, bend] = [0, 1, 2].map((n) => sum(derivatives.map((list) => list[n] as Reference)));
  return { value, slope, bend } as { value: Reference; slope: Reference; bend: Reference };
}

const angles = spread(-180, 180);
const wholeHertz = fc.integer({ min: 1, max: 100 });

/** Waves with any of the parts that a sinusoid may have; the orders of harmonics need not be whole numbers. */
export const waves: fc.Arbitrary<Sinusoid> = fc
  .record({
    rms: spread(0, 10),
    frequency: wholeHertz,
    angle: angles,
    offset: fc.option(spread(-10, 10), { nil: undefined }),
    decay: fc.option(fc.record({ initial: spread(-20, 20), tau: fc.double({ min: 1e-4, max: 10, noNaN: true }) }), {
      nil: undefined,
    }),
    harmonics: fc.array(
      fc.record({
        order: fc.oneof(fc.integer({ min: 2, max: 12 }), spread(0.1, 12)),
        rms: spread(0, 5),
        angle: angles,
      }),
      { maxLength: 2 },
    ),
  })
  .map(({ offset, decay, ...wave }) => ({
    ...wave,
    ...(offset !== undefined && { offset }),
    ...(decay !== undefined && { decay }),
  }));
