import { above, fail, finite, options } from "../base/check.js";
import { exactly } from "../base/simplest-fraction.js";
import type { Cycles, Hertz, Seconds } from "../base/units.js";

/** The frequency that turns cycles into seconds. */
export interface AtFrequency {
  readonly frequency: Hertz;
}

/**
 * How long a number of cycles takes: cycles / frequency.
 *
 * @throws A {@link InputError} for a frequency that is not above 0 Hz.
 * Accuracy: the double nearest to the quotient of what was typed, while both have up to nine places and their digits fit a
 * double: 2.2 cycles at 50 Hz are 0.044 s, although no double is 2.2. Of other doubles correctly rounded.
 * @source definition
 *
 * @example
 * import { cyclesToSeconds } from "tripwright/sinusoid";
 * cyclesToSeconds(12, { frequency: 60 }); // → 0.2
 */
export function cyclesToSeconds(cycles: Cycles, at: AtFrequency): Seconds {
  const count = finite(cycles, "cycles", "a number of cycles");
  return inRange(exactly(count, "/", frequencyOf(at)), "cycles", cycles);
}

/**
 * How many cycles a time holds: seconds · frequency.
 *
 * @throws A {@link InputError} for a frequency that is not above 0 Hz.
 * Accuracy: the double nearest to the product of what was typed, as of {@link cyclesToSeconds}.
 * @source definition
 *
 * @example
 * import { secondsToCycles } from "tripwright/sinusoid";
 * secondsToCycles(0.2, { frequency: 60 }); // → 12
 */
export function secondsToCycles(seconds: Seconds, at: AtFrequency): Cycles {
  const time = finite(seconds, "seconds", "a time in seconds");
  return inRange(exactly(time, "·", frequencyOf(at)), "seconds", seconds);
}

const frequencyOf = (at: AtFrequency): Hertz =>
  above(options(at, ["frequency"]).frequency, 0, "frequency", "a frequency", "Hz");

/** A result that fits a double; never −0. */
export const inRange = (result: number, path: string, given: number): number =>
  Number.isFinite(result) ? result + 0 : fail("out-of-range", path, "a value whose result fits a double", given);
