/** Errors of instruments that have a size and a sign, and can be taken off: bandwidth, skew, late contacts. */
import { above, atLeast, options } from "../base/check.js";
import { atan2Degrees } from "../base/degrees.js";
import { decimal, type Exact, toNumber } from "../base/exact.js";
import { positive } from "../base/positive.js";
import type { Degrees, Hertz, Percent, Seconds } from "../base/units.js";

/** What a limited bandwidth does to a sine. */
export interface BandwidthError {
  /** Shown over true amplitude. */
  readonly ratio: number;
  /** The same as an error, negative. */
  readonly errorPercent: Percent;
  /** What is shown lags: negative. */
  readonly angle: Degrees;
  /** From 10 % to 90 % of a step. */
  readonly riseTime: Seconds;
}

/**
 * What an input with a bandwidth (−3 dB) shows of a sine, taken as a first-order low-pass: a probe, a current clamp or an
 * oscilloscope with its limiter on.
 *
 *     ratio = 1/√(1 + (f/B)²),   angle = −atan(f/B),   rise time = ln 9/(2πB)
 *
 * @param input - `frequency` of the sine, 0 or more; `bandwidth` above 0.
 * @throws A {@link InputError} for a frequency below 0, a bandwidth that is not above 0, one so small that the rise time does
 * not fit a double, and unknown keys.
 * Accuracy: 4 units in the last place each, the error also where it is tiny.
 * @source first-order low-pass: common practice
 *
 * @example
 * import { bandwidthError } from "tripwright/grading";
 * const { errorPercent, angle } = bandwidthError({ frequency: 2500, bandwidth: 20e3 });
 * errorPercent.toFixed(2); // → "-0.77"
 * angle.toFixed(2); // → "-7.13"
 */
export function bandwidthError(input: { readonly frequency: Hertz; readonly bandwidth: Hertz }): BandwidthError {
  const { frequency, bandwidth } = options(input, ["frequency", "bandwidth"]);
  atLeast(frequency, 0, "frequency", "a frequency", "Hz");
  above(bandwidth, 1e-300, "bandwidth", "a bandwidth", "Hz");
  const over = frequency / bandwidth;
  return {
    ratio: 1 / Math.hypot(1, over),
    // 1/√(1 + x²) − 1 without the difference.
    errorPercent: 100 * Math.expm1(-0.5 * Math.log1p(over * over)) + 0,
    angle: -atan2Degrees(frequency, bandwidth) + 0,
    riseTime: Math.log(9) / (2 * Math.PI * bandwidth),
  };
}

/**
 * What a delay between two channels is worth as an angle: channels sampled one after another, or a probe with a long cable.
 *
 *     angle = 360 · frequency · delay
 *
 * A channel that is sampled late seems to lead by it; one whose signal arrives late seems to lag.
 *
 * @param skew - `delay` in seconds, `frequency` above 0 in hertz.
 * @throws A {@link InputError} for a frequency that is not above 0, a delay that is not finite, and unknown keys.
 * Accuracy: the nearest double.
 * @source definition
 *
 * @example
 * import { skewAngle } from "tripwright/grading";
 * skewAngle({ delay: 100e-6, frequency: 50 }); // → 1.8
 */
export function skewAngle(skew: { readonly delay: Exact; readonly frequency: Exact }): Degrees {
  const { delay, frequency } = options(skew, ["delay", "frequency"]);
  const hertz = positive(frequency, "frequency", "a frequency", "Hz");
  return toNumber(decimal(delay, "delay", "a delay in s").times(hertz).times(360), "delay");
}

/** What late contacts do to a time. */
export interface LateContacts {
  /** Mean error of the time: to be taken off it. */
  readonly bias: Seconds;
  /** Standard uncertainty that is left then. */
  readonly standard: Seconds;
}

/**
 * The error of a timer that looks at its contacts now and then: each edge is seen late, by anything up to the interval
 * between two looks. A late start shortens the time, a late stop lengthens it; equal intervals cancel in the mean.
 *
 *     bias = (stop − start)/2,   u = √((start² + stop²)/12)
 *
 * @param contacts - `start`, `stop`: the most by which each edge is seen late, 0 or more.
 * @throws A {@link InputError} for a delay below 0, and unknown keys.
 * Accuracy: 4 units in the last place.
 * @source JCGM 100:2008 4.3.7 (rectangles)
 *
 * @example
 * import { lateContacts } from "tripwright/grading";
 * const { bias, standard } = lateContacts({ start: 0.0001, stop: 0.001 });
 * bias; // → 0.00045
 * standard.toFixed(6); // → "0.000290"
 */
export function lateContacts(contacts: { readonly start: Seconds; readonly stop: Seconds }): LateContacts {
  const { start, stop } = options(contacts, ["start", "stop"]);
  for (const [path, delay] of [
    ["start", start],
    ["stop", stop],
  ] as const)
    atLeast(delay, 0, path, "a delay", "s");
  return { bias: stop / 2 - start / 2, standard: Math.hypot(start / Math.sqrt(12), stop / Math.sqrt(12)) };
}
