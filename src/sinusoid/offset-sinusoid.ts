import { atLeast, finite, options } from "../base/check.js";
import { atan2Degrees, cosDegrees, signedAngle } from "../base/degrees.js";
import type { Degrees, Hertz, Seconds } from "../base/units.js";
import type { Sinusoid } from "../base/waveform.js";
import { inRange } from "./cycles.js";
import { checked } from "./value-at.js";
import { eitherOf, timeConstant, xOverROf } from "./x-over-r.js";

/** A fault current: its symmetrical part, where on the wave the fault begins, and how fast the d.c. component decays. */
export type FaultCurrent = {
  /** Of the symmetrical part. */
  readonly rms: number;
  readonly frequency: Hertz;
} & (
  | {
      /** Of the symmetrical current at t = 0, counted from its crest as everywhere in this library. */
      readonly angle: Degrees;
      readonly inception?: never;
    }
  | {
      /** Of the source voltage at t = 0, counted from its zero crossing upward; that of `faultSequence` counts from the crest. */
      readonly inception: Degrees;
      readonly angle?: never;
    }
) &
  ({ readonly xOverR: number; readonly tau?: never } | { readonly tau: Seconds; readonly xOverR?: never });

/**
 * The current of a fault that begins at t = 0: a sinusoid with a decaying d.c. component, so that the current begins at 0,
 * since it cannot jump.
 *
 *     i(t) = √2 · rms · (cos(360 · frequency · t + angle) − cos(angle) · exp(−t/tau)),  tau = (X/R) / (2π · frequency)
 *
 * Where the fault begins is told by either of two angles, which are not the same:
 *
 * - `angle` is that of the symmetrical current, from its crest: ±90 is no offset, 0 and 180 are full offset.
 * - `inception` is that of the voltage, from its zero crossing upward. The current lags the voltage by the angle of the
 *   circuit, atan(X/R), so that angle = inception − 90 − atan(X/R): no offset at inception = atan(X/R), the highest peak
 *   at inception 0 (which is full offset where there is no resistance). The `inception` of `faultSequence` is another: the
 *   phase of a channel, from its crest. On the channel of this voltage its −90 is 0 here.
 *
 * @param current - `rms` of the symmetrical part, `frequency` in hertz, one of `angle` and `inception` in degrees, one of
 * `xOverR` and `tau` in seconds; both of these 0 or more. `Infinity` is a circuit without resistance: its d.c. component stays,
 * and comes back as `offset`. 0 is one without inductance: it has no d.c. component.
 * @throws A {@link InputError} for a frequency that is not above 0 Hz, a negative rms, X/R or time constant, and where both
 * or none of two alternatives are given.
 * Accuracy: the value at t = 0 is exactly 0; `tau` within 2 units in the last place, the angle from `inception` within 1e-13°.
 * @source textbooks on fault transients: a voltage switched onto R and L in series
 *
 * @example
 * import { firstPeak, offsetSinusoid, valueAt } from "tripwright/sinusoid";
 * const fault = offsetSinusoid({ rms: 1000, frequency: 50, inception: 0, xOverR: 14 });
 * fault.angle?.toFixed(2); // → "-175.91"
 * valueAt(fault, 0); // → 0
 * firstPeak(fault).peak.toFixed(0); // → "2549"
 */
export function offsetSinusoid(current: FaultCurrent): Sinusoid {
  const { rms, frequency, angle, inception } = options(current, KEYS);
  eitherOf(current, "angle", "inception");
  eitherOf(current, "xOverR", "tau");
  const xOverR = current.tau === undefined ? current.xOverR : xOverROf({ tau: current.tau, frequency });
  const tau = current.tau ?? timeConstant({ xOverR, frequency });
  const counted =
    inception === undefined
      ? finite(angle as Degrees, "angle", DEGREES)
      : lagging(finite(inception, "inception", DEGREES), xOverR);
  const symmetrical = checked({ rms: atLeast(rms, 0, "rms", "an rms value"), frequency, angle: counted + 0 });
  const initial = inRange(-Math.SQRT2 * rms * cosDegrees(counted), "rms", rms);
  if (tau === Number.POSITIVE_INFINITY) return { ...symmetrical, offset: initial };
  return tau > 0 ? { ...symmetrical, decay: { initial, tau } } : symmetrical;
}

const KEYS = ["rms", "frequency", "angle", "inception", "xOverR", "tau"];
const DEGREES = "an angle in degrees";

/** From the sine of the voltage to the cosine of the current that lags it. */
const lagging = (inception: Degrees, xOverR: number): Degrees =>
  signedAngle(signedAngle(inception) - 90 - atan2Degrees(xOverR, 1));
