import { fail, options } from "../base/check.js";
import { countSteps, type Decimal, decimal, type Exact, toNumber } from "../base/exact.js";
import type { Piece } from "../base/sequence.js";

/** From where to where, by what step; the sign of the step follows from the ends. */
export interface LevelRange {
  readonly from: Exact;
  readonly to: Exact;
  /** Above 0. */
  readonly step: Exact;
}

/** A range of levels that are held one after the other: for a dwell, or as long as a rate leaves for one step. */
export type Staircase = LevelRange &
  (
    | {
        /** Seconds for which each level is held, above 0. */
        readonly dwell: Exact;
        readonly rate?: never;
      }
    | {
        /** Change a second, above 0: each level is held for step/rate. */
        readonly rate: Exact;
        readonly dwell?: never;
      }
  );

/** More levels than anybody walks through: a step of 1e-9 is refused with the count, not attempted. */
const MOST_LEVELS = 100_000;

/**
 * The levels of a staircase: from, from ± step, from ± 2·step, …, each computed once in exact decimals. When the range
 * is uneven, the last level is `to` itself.
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
  options(range, ["from", "to", "step"]);
  const grid = gridOf(range).map((level) => toNumber(level, "to"));
  const twice = grid.findIndex((level, i) => level === grid[i - 1]);
  if (twice > 0) fail("out-of-range", "step", `a step that doubles near ${grid[twice]} can tell apart`, range.step);
  return grid;
}

function gridOf(range: LevelRange): Decimal[] {
  const from = decimal(range.from, "from");
  const to = decimal(range.to, "to");
  const size = positive(range.step, "step", "a step above 0");
  const span = to.minus(from);
  const { whole, even } = countSteps(span.abs(), size);
  const count = whole.plus(even ? 1 : 2);
  if (count.gt(MOST_LEVELS)) {
    fail("too-many", "step", `a step that makes at most ${MOST_LEVELS} levels`, `${count.toFixed()} levels`);
  }
  const step = span.isNegative() ? size.neg() : size;
  const grid = Array.from({ length: whole.toNumber() }, (_, i) => from.plus(step.times(i)));
  // The end is the end as it was given, whether the last step leads to it or falls short.
  return even ? [...grid, to] : [...grid, from.plus(step.times(whole)), to];
}

/**
 * Levels held one after the other, each for the same time; the last one (`to`, where the range is uneven) too. With a rate
 * in place of a dwell that time is step/rate.
 *
 * @returns One {@link Piece} for each level of {@link levels}, in seconds and in the unit of the levels.
 * @throws A {@link InputError} as {@link levels} does, for a dwell or a rate that is not above 0, and for both or none.
 * Accuracy: each level is the double nearest to the exact decimal.
 * @source common practice
 *
 * @example
 * import { staircase } from "tripwright/timeline";
 * staircase({ from: 1, to: 1.2, step: 0.1, dwell: 0.5 }).map((piece) => piece.to); // → [1, 1.1, 1.2]
 */
export function staircase(range: Staircase): Piece[] {
  const { dwell, rate, ...grid } = options(range, ["from", "to", "step", "dwell", "rate"]);
  const duration = holdOf(grid, dwell, rate);
  return levels(grid).map((level) => ({ duration, from: level, to: level }));
}

/** How long each level is held, by a dwell or by a rate. */
function holdOf({ step }: LevelRange, dwell: Exact | undefined, rate: Exact | undefined): number {
  if (rate === undefined) return toNumber(positive(dwell as Exact, "dwell", "a time above 0 s"), "dwell");
  if (dwell !== undefined) fail("conflict", "rate", "either a dwell or a rate", rate);
  const held = positive(step, "step", "a step above 0").div(positive(rate, "rate", "a rate above 0"));
  return toNumber(held, "rate");
}

/**
 * Up to the far end of a range and back to where it began, in the same levels: for the pickup on the way there and the
 * dropout on the way back. The far end is held once.
 *
 * @returns Pieces as {@link staircase} makes them, there and back.
 * @throws A {@link InputError} as {@link staircase} does.
 * Accuracy: each level is the double nearest to the exact decimal.
 * @source common practice
 *
 * @example
 * import { thereAndBack } from "tripwright/timeline";
 * thereAndBack({ from: 1, to: 1.2, step: 0.1, dwell: 0.5 }).map((piece) => piece.to); // → [1, 1.1, 1.2, 1.1, 1]
 */
export function thereAndBack(range: Staircase): Piece[] {
  const there = staircase(range);
  return [...there, ...there.slice(0, -1).reverse()];
}

/** A range that moves evenly in time. */
export interface LinearRamp {
  readonly from: Exact;
  readonly to: Exact;
  /** Change a second, above 0; its direction follows from the ends. */
  readonly rate: Exact;
}

/**
 * One even movement from `from` to `to`: duration = |to − from| / rate.
 *
 * @returns A single {@link Piece}; none where both ends are equal.
 * @throws A {@link InputError} for a rate that is not above 0 and for values that are not finite.
 * Accuracy: the duration is the double nearest to the exact quotient.
 * @source definition
 *
 * @example
 * import { linearRamp } from "tripwright/timeline";
 * linearRamp({ from: 50, to: 49, rate: 0.5 }); // → [{ duration: 2, from: 50, to: 49 }]
 */
export function linearRamp(range: LinearRamp): Piece[] {
  options(range, ["from", "to", "rate"]);
  const [from, to] = [decimal(range.from, "from"), decimal(range.to, "to")];
  const duration = to
    .minus(from)
    .abs()
    .div(positive(range.rate, "rate", "a rate above 0"));
  if (to.eq(from)) return [];
  const seconds = toNumber(duration, "rate");
  if (seconds === 0) fail("out-of-range", "rate", "a rate that takes more than no time", range.rate);
  return [{ duration: seconds, from: toNumber(from, "from"), to: toNumber(to, "to") }];
}

/** Pulses of rising or falling level with rest between, because inputs heat. */
export interface StepsWithRest extends LevelRange {
  /** The level at rest. */
  readonly rest: Exact;
  /** Seconds at rest before each pulse, above 0. */
  readonly restTime: Exact;
  /** Seconds for which each pulse is held, above 0. */
  readonly hold: Exact;
}

/**
 * Each level held as a pulse that starts from rest: rest, level, rest, next level, …, and rest after the last.
 *
 * @returns Pieces that alternate between rest and level.
 * @throws A {@link InputError} as {@link levels} does, and for times that are not above 0 s.
 * Accuracy: each level is the double nearest to the exact decimal.
 * @source common practice
 *
 * @example
 * import { stepsWithRest } from "tripwright/timeline";
 * const pieces = stepsWithRest({ rest: 0, restTime: 2, from: 36, to: 37, step: 1, hold: 0.1 });
 * pieces.map((piece) => piece.to); // → [0, 36, 0, 37, 0]
 */
export function stepsWithRest(range: StepsWithRest): Piece[] {
  const { rest, restTime, hold, ...grid } = options(range, ["rest", "restTime", "from", "to", "step", "hold"]);
  const low = toNumber(decimal(rest, "rest"), "rest");
  const pause = {
    duration: toNumber(positive(restTime, "restTime", "a time above 0 s"), "restTime"),
    from: low,
    to: low,
  };
  const duration = toNumber(positive(hold, "hold", "a time above 0 s"), "hold");
  return [...levels(grid).flatMap((level) => [pause, { duration, from: level, to: level }]), pause];
}

function positive(value: Exact, path: string, what: string): Decimal {
  const read = decimal(value, path, what);
  return read.gt(0) ? read : fail("out-of-range", path, what, value);
}
