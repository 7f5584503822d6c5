/** Levels over time: staircases, ramps, and pulses with rest between. */
import { fail, options } from "../base/check.js";
import { type Decimal, decimal, type Exact, toNumber } from "../base/exact.js";
import { positive } from "../base/positive.js";
import type { Piece } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { type LevelRange, levels } from "./levels.js";

/** A range of levels that are held one after the other: for a dwell, or for as long as a rate leaves for one step. */
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

/**
 * Levels held one after the other, each for the same time; the last one (`to`, where the range is uneven) too. With a rate
 * in place of a dwell that time is step/rate, also before a shorter last step, so that no level is held for less than the
 * function needs; such a range takes (step − lastStep)/rate longer than the rate alone would ({@link levelGrid} gives
 * lastStep).
 *
 * @returns One {@link Piece} for each level of {@link levels}, in seconds and in the unit of the levels.
 * @throws A {@link InputError} as {@link levels} does, for a dwell or a rate that is not above 0, and for both or none.
 * Accuracy: each level is the double nearest to the exact decimal, each time that nearest to the exact quotient.
 * @source common practice
 *
 * @example
 * import { staircase } from "tripwright/timeline";
 * staircase({ from: 1, to: 1.2, step: 0.1, dwell: 0.5 }).map((piece) => piece.to); // → [1, 1.1, 1.2]
 * staircase({ from: 60, to: 120, step: 0.7, rate: 2 })[0]; // → { duration: 0.35, from: 60, to: 60 }
 */
export function staircase(range: Staircase): Piece[] {
  const { dwell, rate, ...grid } = options(range, ["from", "to", "step", "dwell", "rate"]);
  const duration = holdOf(grid, dwell, rate);
  return levels(grid).map((level) => ({ duration, from: level, to: level }));
}

/** How long each level is held, by a dwell or by a rate. */
function holdOf({ step }: LevelRange, dwell: Exact | undefined, rate: Exact | undefined): Seconds {
  if (rate === undefined && dwell === undefined) fail("missing", "dwell", "a dwell or a rate", dwell);
  if (rate === undefined) return toNumber(positive(dwell, "dwell", "a time", "s"), "dwell");
  if (dwell !== undefined) fail("conflict", "rate", "either a dwell or a rate", rate);
  return timeAt(rate, positive(step, "step", "a step"));
}

/** How long a change takes at a rate. */
function timeAt(rate: Exact, change: Decimal): Seconds {
  const seconds = toNumber(change.div(positive(rate, "rate", "a rate")), "rate");
  return seconds > 0 ? seconds : fail("out-of-range", "rate", "a rate that takes more than no time", rate);
}

/** A range that moves evenly in time. */
export interface LinearRamp {
  readonly from: Exact;
  readonly to: Exact;
  /** Change a second, above 0, in the unit of the level: V/s, A/s, Hz/s, °/s. Its direction follows from the ends. */
  readonly rate: Exact;
}

/**
 * One even movement from `from` to `to`: duration = |to − from| / rate. The level may be anything that moves: a voltage at
 * V/s, a current at A/s, a frequency at Hz/s, an angle at °/s.
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
  const { rate, ...ends } = options(range, ["from", "to", "rate"]);
  const [from, to] = [decimal(ends.from, "from"), decimal(ends.to, "to")];
  positive(rate, "rate", "a rate");
  if (to.eq(from)) return [];
  return [{ duration: timeAt(rate, to.minus(from).abs()), from: toNumber(from, "from"), to: toNumber(to, "to") }];
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
    duration: toNumber(positive(restTime, "restTime", "a time", "s"), "restTime"),
    from: low,
    to: low,
  };
  const duration = toNumber(positive(hold, "hold", "a time", "s"), "hold");
  return [...levels(grid).flatMap((level) => [pause, { duration, from: level, to: level }]), pause];
}
