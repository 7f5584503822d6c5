import { fail, options } from "../base/check.js";
import { countSteps, type Decimal, decimal, type Exact, toNumber } from "../base/exact.js";
import { positive } from "../base/positive.js";

/** From where to where, by what step; the sign of the step follows from the ends. */
export interface LevelRange {
  readonly from: Exact;
  readonly to: Exact;
  /** Above 0. */
  readonly step: Exact;
}

/** More levels than anybody walks through: a step of 1e-9 is refused with the count, not attempted. */
export const MOST_LEVELS = 100_000;

/** Exact levels from + i · step for i from 0 to `whole`, and `to`, which is the last of them where the range is even. */
export interface Grid {
  readonly from: Decimal;
  readonly to: Decimal;
  /** With its sign. */
  readonly step: Decimal;
  /** Whole steps. */
  readonly whole: Decimal;
  readonly even: boolean;
  /** Levels, both ends included. */
  readonly count: Decimal;
}

/** Reads a range; how many levels it makes is told, not judged. */
export function gridOf(range: LevelRange): Grid {
  const from = decimal(range.from, "from");
  const to = decimal(range.to, "to");
  const size = positive(range.step, "step", "a step");
  const span = to.minus(from);
  const { whole, even } = countSteps(span.abs(), size);
  return { from, to, step: span.isNegative() ? size.neg() : size, whole, even, count: whole.plus(even ? 1 : 2) };
}

/** Refuses more levels than anybody walks through, with their count. */
export function checkCount(count: Decimal): void {
  if (count.gt(MOST_LEVELS))
    fail("too-many", "step", `a step that makes at most ${MOST_LEVELS} levels`, `${count.toFixed()} levels`);
}

/** The doubles of exact levels in a row; two of them that are the same double are refused. */
export function apart(exact: readonly Decimal[], step: Exact): number[] {
  const doubles = exact.map((level) => toNumber(level, "to"));
  const twice = doubles.findIndex((level, i) => level === doubles[i - 1]);
  if (twice > 0) fail("out-of-range", "step", `a step that doubles near ${doubles[twice]} can tell apart`, step);
  return doubles;
}

/**
 * The levels of a staircase: from, from ± step, from ± 2·step, …, each computed once in exact decimals. When the range
 * is uneven, the last level is `to` itself; {@link levelGrid} says so.
 *
 * @returns Both ends and what lies between, in the direction from `from` to `to`; the single level when they are equal.
 * @throws A {@link InputError} for a step that is not above 0, for values that are not finite, and with the count for
 * more than 100,000 levels.
 * Accuracy: each level is the double nearest to the exact decimal.
 * @source common practice
 *
 * @example
 * import { levels } from "tripwright/timeline";
 * levels({ from: 0, to: 0.3, step: 0.1 }); // → [0, 0.1, 0.2, 0.3]
 * levels({ from: 10, to: 0, step: 3 }); // → [10, 7, 4, 1, 0]
 * levels({ from: 50, to: 52, step: 1e-9 }); // throws InputError
 */
export function levels(range: LevelRange): number[] {
  const { from, to, step, whole, even, count } = gridOf(options(range, ["from", "to", "step"]));
  checkCount(count);
  const grid = Array.from({ length: whole.toNumber() }, (_, i) => from.plus(step.times(i)));
  // The end is the end as it was given, whether the last step leads to it or falls short.
  return apart(even ? [...grid, to] : [...grid, from.plus(step.times(whole)), to], range.step);
}

/** How a step goes into a range. */
export interface LevelGrid {
  /** Levels, both ends included. */
  readonly count: number;
  /** Whether whole steps lead from end to end. */
  readonly even: boolean;
  /** The size of the step onto `to`, in the unit of the level: shorter than the others in an uneven range. 0 where both ends are equal. */
  readonly lastStep: number;
}

/**
 * How many {@link levels} a range has, whether it is even, and by what step `to` is reached:
 *
 *     lastStep = |to − from| − (count − 2) · step
 *
 * @throws A {@link InputError} for a step that is not above 0, for values that are not finite, and with the count for
 * more than 100,000 levels.
 * Accuracy: whether a range is even is decided in exact decimals; the last step is the double nearest to its decimal.
 * @source common practice
 *
 * @example
 * import { levelGrid } from "tripwright/timeline";
 * levelGrid({ from: 60, to: 120, step: 0.7 }); // → { count: 87, even: false, lastStep: 0.5 }
 * levelGrid({ from: 5, to: 0, step: 0.02 }); // → { count: 251, even: true, lastStep: 0.02 }
 */
export function levelGrid(range: LevelRange): LevelGrid {
  const { from, to, step, whole, even, count } = gridOf(options(range, ["from", "to", "step"]));
  checkCount(count);
  const last = even ? step : to.minus(from).minus(step.times(whole));
  return {
    count: count.toNumber(),
    even,
    lastStep: to.eq(from) ? 0 : toNumber(last.abs(), "step"),
  };
}
