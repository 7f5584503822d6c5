/** Where a quantity lies beyond a level, state by state and across states. */
import { type Decimal, isBelow, larger } from "../base/exact.js";
import { type Course, derivative, polynomial, valueOf } from "./course.js";
import { signChanges } from "./sign-changes.js";

/** A quantity during one state. */
export interface Stage {
  /** The place of the state in the timeline, from 0. */
  readonly index: number;
  readonly start: Decimal;
  readonly duration: Decimal;
  readonly course: Course;
  /** Made of typed decimals alone, so that a hair above the level is above it. */
  readonly typed: boolean;
}

/** A stretch of time beyond a level, and the highest value in it; `index` is the state in which it begins. */
export interface Stretch {
  readonly index: number;
  readonly from: Decimal;
  readonly to: Decimal;
  readonly worst: Decimal;
}

/** Slopes and cosines are doubles: what is made of them may end a rounding beside the level that it was made for. */
const HAIR = "1e-12";

/** The stretches of one state in which the course lies above a level. */
export function stretchesAbove({ index, start, duration, course, typed }: Stage, level: Decimal): readonly Stretch[] {
  if (!bound(course, duration).gt(level)) return [];
  const beyond = [...course, ...polynomial(level.neg())];
  const least = typed ? level : level.plus(level.abs().times(HAIR));
  const cuts = [duration.times(0), ...signChanges(beyond, duration), duration];
  return cuts.slice(1).flatMap((to, i) => {
    const from = cuts[i] as Decimal;
    if (!valueOf(beyond, from.plus(to).div(2)).gt(0)) return [];
    const worst = highest(course, { from, to, duration });
    return isBelow(least, worst) ? [{ index, from: start.plus(from), to: start.plus(to), worst }] : [];
  });
}

/** No value of the course is higher: each of its powers at its end, nothing decayed. */
const bound = (course: Course, duration: Decimal): Decimal =>
  course
    .flatMap(({ powers }) => powers.map((power, n) => larger(power, power.times(duration.pow(n)))))
    .reduce((sum, power) => sum.plus(power.abs()), duration.times(0));

interface Within {
  readonly from: Decimal;
  readonly to: Decimal;
  readonly duration: Decimal;
}

/** The highest value of a course within a part of its state. */
export function highest(course: Course, { from, to, duration }: Within): Decimal {
  const turns = signChanges(derivative(course), duration).filter((turn) => turn.gt(from) && turn.lt(to));
  return [to, ...turns].map((t) => valueOf(course, t)).reduce(larger, valueOf(course, from));
}

/** Stretches that follow one another without a gap are one. They come in order of time. */
export function joined(stretches: readonly Stretch[]): readonly Stretch[] {
  const all: Stretch[] = [];
  for (const next of stretches) {
    const last = all.at(-1);
    if (last === undefined || isBelow(last.to, next.from)) all.push(next);
    else all[all.length - 1] = { ...last, to: larger(last.to, next.to), worst: larger(last.worst, next.worst) };
  }
  return all;
}
