import { fail, nameIn, options } from "../base/check.js";
import { countSteps, type Decimal, decimal, type Exact, isBelow, toNumber } from "../base/exact.js";
import { notNegative, positive } from "../base/positive.js";

/** The least and the most of a delay, in seconds. */
export interface DelayRange {
  readonly minimum: Exact;
  readonly maximum: Exact;
}

/** How a level moves while a pickup or a dropout is sought, and how long the function takes to answer. */
export type MovingLevel = {
  readonly direction: "rising" | "falling";
  /** From the crossing of its threshold to its contact, in seconds; a range where it scatters. */
  readonly operateDelay: Exact | DelayRange;
} & (
  | {
      /** Change a second, above 0, in the unit of the level. */
      readonly rate: Exact;
      readonly step?: never;
      readonly dwell?: never;
    }
  | {
      /** Above 0, in the unit of the level. */
      readonly step: Exact;
      /** Seconds for which each level is held, above 0. */
      readonly dwell: Exact;
      readonly rate?: never;
    }
);

/** What the movement puts on the reading, in the unit of the level. */
export interface RampError {
  /**
   * The middle of the errors that may come: positive where the reading is high. In the direction of the movement. Take it
   * off the reading and the spread remains.
   */
  readonly bias: number;
  /** Half the width of what remains about the bias; the error is never larger than |bias| + spread. */
  readonly spread: number;
  /** The same as a standard uncertainty: a rectangle, spread/√3. */
  readonly standard: number;
  /** By how many whole steps a reading may come late, because the delay outlasts the dwell; 0 for a ramp. */
  readonly stepsLate: number;
}

/**
 * What a moving level puts on a measured pickup or dropout. The reading is the level that stands when the contact answers:
 * a moving quantity reads in the direction of its movement by rate × delay; a staircase by half a step on average, and by one
 * more step for each dwell that the delay outlasts. A delay of exactly one dwell is answered in the next step. Errors lie
 * between
 *
 *     ramp:       rate · minimum                     and  rate · maximum
 *     staircase:  step · floor(minimum/dwell)        and  step · (1 + floor(maximum/dwell))
 *
 * where minimum = maximum for a delay that does not scatter; the bias is their middle, ± by direction, and the spread half
 * of what lies between. With one delay the bias is the mean over thresholds anywhere within a step and the standard
 * uncertainty step/√12; with a range of delays the standard uncertainty is not too small where delays lie evenly in it. One
 * that jumps between its ends can scatter by as much as the spread.
 *
 * @returns In the unit of the level; the sign of the bias is that of the direction.
 * @throws A {@link InputError} for a rate, step or dwell that is not above 0, both a rate and a step, a negative delay, a
 * maximum below the minimum, an unknown direction.
 * Accuracy: bias and spread are the doubles nearest to the exact decimals, the standard uncertainty within 1 unit in the
 * last place; whether a delay outlasts a dwell is decided exactly, also in cycles of 60 Hz.
 * @source common practice: over pickups high, under pickups low, over dropouts low, under dropouts high
 *
 * @example
 * import { rampError } from "tripwright/timeline";
 * rampError({ direction: "rising", rate: 0.5, operateDelay: 0.04 }).bias; // → 0.02
 * rampError({ direction: "falling", step: 0.1, dwell: 0.2, operateDelay: 0.04 }).bias; // → -0.05
 * const { bias, spread } = rampError({ direction: "rising", rate: 0.5, operateDelay: { minimum: 0.03, maximum: 0.05 } });
 * [bias, spread]; // → [0.02, 0.005]
 */
export function rampError(moving: MovingLevel): RampError {
  const given = options(moving, ["direction", "operateDelay", "rate", "step", "dwell"]);
  const direction = nameIn(given.direction, { rising: true, falling: true }, "direction");
  const delay = delayRange(given.operateDelay);
  const { least, most, stepsLate } = extremesOf(given, delay);
  const bias = toNumber(least.plus(most).div(2), "operateDelay");
  const spread = most.minus(least).div(2);
  return {
    bias: direction === "rising" ? bias : 0 - bias,
    spread: toNumber(spread, "operateDelay"),
    standard: toNumber(spread.div(decimal(3, "").sqrt()), "operateDelay"),
    stepsLate,
  };
}

function extremesOf({ rate, step, dwell }: MovingLevel, { minimum, maximum }: Delay) {
  if (rate !== undefined) {
    if (step !== undefined || dwell !== undefined)
      fail("conflict", "rate", "either a rate or a step with its dwell", rate);
    const speed = positive(rate, "rate", "a rate");
    return { least: speed.times(minimum), most: speed.times(maximum), stepsLate: 0 };
  }
  if (step === undefined && dwell === undefined) fail("missing", "step", "a step with its dwell, or a rate", step);
  const size = positive(step, "step", "a step");
  const held = positive(dwell, "dwell", "a time", "s");
  const late = countSteps(maximum, held).whole;
  return {
    least: size.times(countSteps(minimum, held).whole),
    most: size.times(late.plus(1)),
    stepsLate: toNumber(late, "operateDelay"),
  };
}

/** A delay as exact as it was given. */
export interface Delay {
  readonly minimum: Decimal;
  readonly maximum: Decimal;
}

/** Reads a delay; one that does not scatter is its own minimum and maximum. */
export function delayRange(given: Exact | DelayRange): Delay {
  if (!isRange(given)) {
    const delay = notNegative(given, "operateDelay", "a time", "s");
    return { minimum: delay, maximum: delay };
  }
  options(given, ["minimum", "maximum"], "operateDelay");
  const minimum = notNegative(given.minimum, "operateDelay.minimum", "a time", "s");
  const maximum = notNegative(given.maximum, "operateDelay.maximum", "a time", "s");
  if (isBelow(maximum, minimum))
    fail("out-of-range", "operateDelay.maximum", "a maximum of at least the minimum", given.maximum);
  return { minimum, maximum };
}

const isRange = (given: Exact | DelayRange): given is DelayRange =>
  typeof given === "object" && given !== null && !("toFixed" in given);
