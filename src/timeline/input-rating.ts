/** What the inputs of a relay stand, as its data sheet states it. */
import { fail, options } from "../base/check.js";
import type { Decimal, Exact } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { given, positive } from "../base/positive.js";

/** What one input stands, or all inputs of a quantity; what is not given is not checked. */
export interface InputRating {
  /** A or V rms that may stand for ever. */
  readonly continuous?: Exact;
  /** A or V rms that may stand for so many seconds, from cold: ∫ x² dt up to value² · time. */
  readonly shortTime?: { readonly value: Exact; readonly time: Exact };
  /** Seconds: time constant with which the input heats and cools. Without it, nothing cools. */
  readonly tau?: Exact;
  /** A or V, instantaneous: the dynamic rating. */
  readonly peak?: Exact;
}

/** What the inputs of a relay stand. */
export interface InputRatings {
  readonly current?: InputRating;
  readonly voltage?: InputRating;
  /**
   * Those of single inputs in place of those of their quantity. An input with a continuous or a short-time rating of its own
   * takes neither of them, nor the time constant, from its quantity: together they say what one conductor stands.
   */
  readonly inputs?: { readonly [input: string]: InputRating };
}

/** A rating in exact decimals. */
export interface ReadRating {
  readonly continuous?: Decimal;
  readonly shortTime?: { readonly value: Decimal; readonly time: Decimal };
  readonly tau?: Decimal;
  readonly peak?: Decimal;
}

const WHAT = { continuous: ["a value", "A or V"], tau: ["a time constant", "s"], peak: ["a value", "A or V"] } as const;
const NUMBERS = ["continuous", "tau", "peak"] as const;

/** Reads the rating of a quantity or of an input. */
export function readRating(rating: InputRating, path: string): ReadRating {
  return within(path, () => {
    const { shortTime } = options(rating, ["continuous", "shortTime", "tau", "peak"]);
    const read: ReadRating = {
      ...given(NUMBERS, rating, WHAT),
      ...(shortTime !== undefined && { shortTime: within("shortTime", () => readShortTime(shortTime)) }),
    };
    if (shortTime !== undefined && read.continuous?.gt(read.shortTime?.value ?? read.continuous)) {
      fail("conflict", "shortTime.value", "a value of the continuous one or more", shortTime.value);
    }
    return read;
  });
}

/** What holds for an input that has a rating of its own. */
export function ratingInPlace(common: Partial<ReadRating>, own: Partial<ReadRating>): Partial<ReadRating> {
  if (own.continuous === undefined && own.shortTime === undefined) return { ...common, ...own };
  const { continuous: _continuous, shortTime: _shortTime, tau: _tau, ...others } = common;
  return { ...others, ...own };
}

function readShortTime(shortTime: NonNullable<InputRating["shortTime"]>): NonNullable<ReadRating["shortTime"]> {
  const { value, time } = options(shortTime, ["value", "time"]);
  return { value: positive(value, "value", "a value", "A or V"), time: positive(time, "time", "a time", "s") };
}
