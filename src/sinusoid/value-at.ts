import { above, fail, finite } from "../base/check.js";
import { checkSinusoid } from "../base/check-waveform.js";
import { cosDegrees, signedAngle } from "../base/degrees.js";
import type { Degrees, Seconds } from "../base/units.js";
import type { Sinusoid } from "../base/waveform.js";

/**
 * The instantaneous value of a sinusoid.
 *
 *     x(t) = √2 · rms · cos(360 · frequency · t + angle) + offset + initial · exp(−t/tau)
 *          + Σ √2 · rms_h · cos(360 · order · frequency · t + angle_h)
 *
 * @param sinusoid - Amplitudes rms, frequency in hertz, angles in degrees; keys beyond those of {@link Sinusoid} are
 * ignored, so that the result of a fit can be passed as it is.
 * @param t - Seconds, from the instant at which the angles count.
 * @throws A {@link InputError} for values that are not finite, negative amplitudes, a frequency below 0.
 * Accuracy: 1e-15 of the peak while 360 · frequency · t is exact in doubles; beyond, the rounding of frequency · t adds
 * 360° · 1.1e-16 for each cycle since t = 0.
 * @source IEC/IEEE 60255-118-1 (phase reference: the cosine)
 *
 * @example
 * import { valueAt } from "tripwright/sinusoid";
 * valueAt({ rms: 100, frequency: 50 }, 0.005); // → 0
 * valueAt({ rms: 100, frequency: 50, angle: -60 }, 0); // → 70.71067811865477
 */
export function valueAt(sinusoid: Sinusoid, t: Seconds): number {
  const { rms, frequency, angle = 0, offset = 0, decay, harmonics = [] } = checked(sinusoid);
  finite(t, "t", "a time in seconds");
  const cycles = frequency * t;
  let value = Math.SQRT2 * rms * cosOfCycles(cycles, angle) + offset;
  if (decay !== undefined) value += decay.initial * Math.exp(-t / decay.tau);
  for (const { order, rms: amplitude, angle: ahead = 0 } of harmonics) {
    value += Math.SQRT2 * amplitude * cosOfCycles(order * cycles, ahead);
  }
  return Number.isFinite(value) ? value + 0 : fail("out-of-range", "t", "a time at which the value fits a double", t);
}

/** Whole turns are taken off first, while that is still exact, so that the sum of the two angles rounds least. */
const cosOfCycles = (cycles: number, angle: Degrees): number =>
  cosDegrees(signedAngle((cycles % 1) * 360) + signedAngle(angle));

/** The sinusoid, every part of it checked. */
export const checked = (sinusoid: Sinusoid): Sinusoid =>
  checkSinusoid(sinusoid, "a sinusoid such as { rms: 63.5, frequency: 50 }", (order) => {
    above(order, 0, "order", `a multiple of ${sinusoid.frequency} Hz`);
  });
