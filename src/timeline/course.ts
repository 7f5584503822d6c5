/** What ramps and decaying parts make, squared and integrated: sums of polynomials that decay, in exact decimals. */
import { type Decimal, decimal, isBelow } from "../base/exact.js";

/** (powers[0] + powers[1] · t + powers[2] · t² + …) · exp(−rate · t). */
export interface Term {
  readonly rate: Decimal;
  readonly powers: readonly Decimal[];
}

/** The sum of its terms, over the seconds since a state began. */
export type Course = readonly Term[];

export const ZERO = /* @__PURE__ */ decimal(0, "");
const ONE = /* @__PURE__ */ decimal(1, "");

/** A polynomial. */
export const polynomial = (...powers: readonly Decimal[]): Course => [{ rate: ZERO, powers }];

/** Beyond this exponent nothing is left in a hundred digits. */
const FORGOTTEN = 1000;

/** The value at an instant. */
export const courseAt = (course: Course, t: Decimal): Decimal =>
  course.reduce((sum, { rate, powers }) => sum.plus(polynomialAt(powers, t).times(left(rate.times(t)))), ZERO);

/** The value and the change per second at an instant: what decays is asked for once. */
export function valueAndSlope(course: Course, t: Decimal): readonly [Decimal, Decimal] {
  let [value, slope] = [ZERO, ZERO];
  for (const { rate, powers } of course) {
    const [of, weight] = [polynomialAt(powers, t), left(rate.times(t))];
    const rise = polynomialAt(
      powers.slice(1).map((power, n) => power.times(n + 1)),
      t,
    );
    value = value.plus(of.times(weight));
    slope = slope.plus(rise.minus(of.times(rate)).times(weight));
  }
  return [value, slope];
}

const polynomialAt = (powers: readonly Decimal[], t: Decimal): Decimal =>
  powers.reduceRight((sum, power) => sum.times(t).plus(power), ZERO);

function left(exponent: Decimal): Decimal {
  if (exponent.isZero()) return ONE;
  return exponent.gt(FORGOTTEN) ? ZERO : exponent.neg().exp();
}

/** The same course with one term for each rate, and without what is zero. */
export function tidied(course: Course): Course {
  const terms: Term[] = [];
  for (const { rate, powers } of course) {
    const place = terms.findIndex((term) => isSame(term.rate, rate));
    const known = terms[place];
    if (known === undefined) terms.push({ rate, powers });
    else terms[place] = { rate: known.rate, powers: added(known.powers, powers) };
  }
  return terms.map(trimmed).filter(({ powers }) => powers.length > 0);
}

/** Rates are quotients, rounded in their last digit. */
const isSame = (a: Decimal, b: Decimal): boolean => !isBelow(a, b) && !isBelow(b, a);

const added = (a: readonly Decimal[], b: readonly Decimal[]): Decimal[] =>
  Array.from({ length: Math.max(a.length, b.length) }, (_, n) => (a[n] ?? ZERO).plus(b[n] ?? ZERO));

function trimmed({ rate, powers }: Term): Term {
  const highest = powers.findLastIndex((power) => !power.isZero());
  return { rate, powers: powers.slice(0, highest + 1) };
}

/** The product of two courses. */
export const product = (a: Course, b: Course): Course =>
  tidied(
    a.flatMap((one) =>
      b.flatMap((other) =>
        one.powers.map((power, n) => ({
          rate: one.rate.plus(other.rate),
          powers: [...Array.from({ length: n }, () => ZERO), ...other.powers.map((factor) => factor.times(power))],
        })),
      ),
    ),
  );

/** A course times a number. */
export const scaled = (course: Course, by: Decimal): Course =>
  course.map(({ rate, powers }) => ({ rate, powers: powers.map((power) => power.times(by)) }));

/** The change per second. */
export const derivative = (course: Course): Course =>
  tidied(
    course.map(({ rate, powers }) => ({
      rate,
      powers: powers.map((power, n) => (powers[n + 1] ?? ZERO).times(n + 1).minus(power.times(rate))),
    })),
  );

/** y with y′ = course − rate · y from a given start; with the rate 0 it is the integral. */
export function response(course: Course, { rate, start }: { readonly rate: Decimal; readonly start: Decimal }): Course {
  const forced = course.map((term) => ({
    rate: term.rate,
    powers: isSame(rate, term.rate) ? risen(term.powers) : balanced(term.powers, rate.minus(term.rate)),
  }));
  return tidied([...forced, { rate, powers: [start.minus(courseAt(forced, ZERO))] }]);
}

/** q with q′ = p. */
const risen = (powers: readonly Decimal[]): Decimal[] => [ZERO, ...powers.map((power, n) => power.div(n + 1))];

/** q with q′ + lag · q = p, from its highest power down. */
function balanced(powers: readonly Decimal[], lag: Decimal): Decimal[] {
  const found: Decimal[] = [];
  for (let n = powers.length - 1; n >= 0; n--) {
    const above = found[0]?.times(n + 1) ?? ZERO;
    found.unshift((powers[n] as Decimal).minus(above).div(lag));
  }
  return found;
}
