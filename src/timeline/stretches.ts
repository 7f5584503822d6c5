/** Where a quantity lies beyond a level, state by state and across states. */
import { type Decimal, isBelow, larger } from "../base/exact.js";
import { type Course, courseAt, derivative, polynomial, ZERO } from "./course.js";
import { crossings, signChanges } from "./sign-changes.js";

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

/** A level and a hair. */
export const withHair = (level: Decimal): Decimal => level.plus(level.abs().times(HAIR));

/** Where a quantity turns within its state; between two turns it runs one way only. */
export const turnsOf = ({ course, duration }: Stage): readonly Decimal[] => signChanges(derivative(course), duration);

/** The highest value in a state. */
export const highestIn = (stage: Stage): Decimal => highestAt(stage.course, [ZERO, ...turnsOf(stage), stage.duration]);

const highestAt = (course: Course, instants: readonly Decimal[]): Decimal =>
  instants.map((t) => courseAt(course, t)).reduce(larger);

/** The stretches of one state in which the quantity lies above a level. */
export function stretchesAbove(stage: Stage, level: Decimal, known?: readonly Decimal[]): readonly Stretch[] {
  const { index, start, duration, course, typed } = stage;
  if (!bound(course, duration).gt(level)) return [];
  const turns = known ?? turnsOf(stage);
  const beyond = [...course, ...polynomial(level.neg())];
  const least = typed ? level : withHair(level);
  const cuts = [ZERO, ...crossings(beyond, turns, duration), duration];
  return cuts.slice(1).flatMap((to, i) => {
    const from = cuts[i] as Decimal;
    if (!courseAt(beyond, from.plus(to).div(2)).gt(0)) return [];
    const worst = highestAt(course, [from, ...turns.filter((turn) => turn.gt(from) && turn.lt(to)), to]);
    return isBelow(least, worst) ? [{ index, from: start.plus(from), to: start.plus(to), worst }] : [];
  });
}

/** No value of the course is higher: the size of each power at the end, nothing decayed. */
export const bound = (course: Course, duration: Decimal): Decimal =>
  course
    .flatMap(({ powers }) => powers.map((power, n) => power.abs().times(duration.pow(n))))
    .reduce((sum, size) => sum.plus(size), ZERO);

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
