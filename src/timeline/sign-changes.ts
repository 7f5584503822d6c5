/** Where a course changes its sign: all the instants, none missed. */
import { rootOfIncreasing } from "../base/bracket.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import { type Course, courseAt, derivative, tidied, valueAndSlope, ZERO } from "./course.js";

/**
 * The instants within (0, end) at which a course changes its sign, in order.
 *
 * A polynomial up to the second degree has its roots in closed form. Any other course is divided by the exponential of its
 * shortest term, which moves no root, and differentiated, which shortens that term by a power: between the sign changes of
 * the result it runs one way only, and meets zero at most once. So on, until one short term is left.
 */
export function signChanges(course: Course, end: Decimal): readonly Decimal[] {
  const terms = [...tidied(course)].sort((a, b) => a.powers.length - b.powers.length);
  const [shortest] = terms;
  if (shortest === undefined) return [];
  if (terms.length === 1 && shortest.powers.length <= 3) {
    return rootsWithin(shortest.powers, end);
  }
  // Relative to the slowest decay, so that nothing grows or vanishes altogether.
  const slowest = terms.reduce((least, { rate }) => (rate.lt(least) ? rate : least), shortest.rate);
  const turns = signChanges(derivative(slower(terms, shortest.rate)), end);
  return crossings(slower(terms, slowest), turns, end);
}

/** The sign changes of a course that runs one way only between its turns, and from the outer ones to the ends. */
export function crossings(course: Course, turns: readonly Decimal[], end: Decimal): readonly Decimal[] {
  const [only, ...others] = tidied(course);
  if (only !== undefined && others.length === 0 && only.powers.length <= 3) return rootsWithin(only.powers, end);
  const ends = [ZERO, ...turns, end];
  return ends.slice(1).flatMap((to, i) => crossing(course, [ends[i] as Decimal, to]));
}

const rootsWithin = (powers: readonly Decimal[], end: Decimal): readonly Decimal[] =>
  roots(powers).filter((root) => root.gt(0) && root.lt(end));

const slower = (course: Course, by: Decimal): Course =>
  course.map(({ rate, powers }) => ({ rate: rate.minus(by), powers }));

/** The real roots of c + b · t + a · t² at which its sign changes, in order. */
function roots([c = ZERO, b = ZERO, a = ZERO]: readonly Decimal[]): readonly Decimal[] {
  if (a.isZero()) return b.isZero() ? [] : [c.neg().div(b)];
  const discriminant = b.times(b).minus(a.times(c).times(4));
  if (!discriminant.gt(0)) return [];
  const half = discriminant.sqrt().times(a.isNegative() ? -1 : 1);
  return [half.neg(), half].map((by) => by.minus(b).div(a.times(2)));
}

/** The one sign change within a stretch, if there is one, to the double nearest to it or the next. */
function crossing(course: Course, [from, to]: readonly [Decimal, Decimal]): readonly Decimal[] {
  const [start, stop] = [courseAt(course, from), courseAt(course, to)];
  if (!start.times(stop).isNegative() || start.isZero() || stop.isZero()) return [];
  const sense = start.isNegative() ? 1 : -1;
  let [last, value, slope] = [Number.NaN, 0, 0];
  const visit = (x: number): void => {
    if (x === last) return;
    [value, slope] = valueAndSlope(course, read(x)).map((one) => sense * toNumber(one, "")) as [number, number];
    last = x;
  };
  const root = rootOfIncreasing(
    (x) => {
      visit(x);
      return value;
    },
    (x) => {
      visit(x);
      return slope;
    },
    [toNumber(from, ""), toNumber(to, "")],
  );
  return [read(root)];
}

/** Through text, which is read digit by digit: a number would be taken for the fraction that it may stand for, such as 11/60. */
const read = (x: number): Decimal => decimal(String(x), "");
