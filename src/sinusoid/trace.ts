import { above, fail, finite } from "../base/check.js";
import { doubles } from "../base/doubles.js";
import type { Hertz } from "../base/units.js";

/** Samples moved and scaled into ±1, so that neither an offset nor a huge or tiny unit costs digits. */
export interface Trace {
  /** A sample is middle + half · value; half is 0 where all samples are equal. */
  readonly values: Float64Array;
  readonly count: number;
  readonly maximum: number;
  readonly minimum: number;
  readonly middle: number;
  readonly half: number;
}

export function readTrace(samples: ArrayLike<number>, least: number): Trace {
  const source = doubles(samples, "samples", "a sample");
  const count = source.length;
  if (count < least) fail("wrong-length", "samples", `${least} samples or more`, count);
  let minimum = source[0]!;
  let maximum = minimum;
  let nothing = 0; // stays so for finite samples
  for (let i = 0; i < count; i++) {
    const x = source[i]!;
    if (x < minimum) minimum = x;
    else if (x > maximum) maximum = x;
    nothing += x - x;
  }
  if (nothing !== 0) for (const [i, x] of source.entries()) finite(x, `samples[${i}]`, "a sample");
  const half = maximum / 2 - minimum / 2;
  const middle = minimum + half;
  if (half > 4e307) fail("out-of-range", "samples", "a swing that fits a double", maximum);
  const values = new Float64Array(count);
  if (half > 0) for (let i = 0; i < count; i++) values[i] = (source[i]! - middle) / half;
  return { values, count, maximum: maximum + 0, minimum: minimum + 0, middle: middle + 0, half };
}

export const checkedRate = (sampleRate: Hertz): Hertz => above(sampleRate, 0, "sampleRate", "a sample rate", "Hz");

/** Cycles in the record: one at least, and half a line of the spectrum below half the sample rate. */
export function cyclesIn({ count }: Trace, sampleRate: Hertz, frequency: Hertz): number {
  const perCycle = checkedRate(sampleRate) / above(frequency, 0, "frequency", "a frequency", "Hz");
  const least = 2 / (1 - 1 / count);
  if (perCycle < least)
    fail("out-of-range", "sampleRate", `${frequency * least} Hz or more, beyond twice the frequency`, sampleRate);
  if (count < perCycle - 1e-9 * count)
    fail("wrong-length", "samples", `a cycle or more, ${Math.ceil(perCycle)} samples`, count);
  return count / perCycle;
}

/** The highest order that stays half a line of the spectrum below half the sample rate, and within `most`. */
export const highestOrder = (step: number, count: number, most: number): number =>
  Math.max(1, Math.floor(Math.min(most, (0.5 - 0.5 / count) / step + 1e-9)));
