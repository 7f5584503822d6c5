import { above, fail, options, whole } from "../base/check.js";
import { addDecay } from "../base/decay.js";
import { signedAngle } from "../base/degrees.js";
import { divide, multiply } from "../base/double-double.js";
import { room } from "../base/doubles.js";
import { addTone, cyclesAfter, fillTone, type Tone } from "../base/synthesis.js";
import type { Hertz } from "../base/units.js";
import type { Sinusoid } from "../base/waveform.js";
import { checked } from "./value-at.js";

/** A gigabyte; a longer record is taken piece by piece. */
const MOST_SAMPLES = 2 ** 27;

/** Which samples of a wave: sample n is taken at n / sampleRate seconds. */
export interface SampleRange {
  /** Samples a second; above twice the highest frequency of the wave. */
  readonly sampleRate: Hertz;
  /** How many samples. */
  readonly count: number;
  /** The number of the first sample, default 0; a whole number, may be negative. */
  readonly start?: number;
}

/**
 * The values of a sinusoid at evenly spaced instants, many times faster than one by one.
 *
 *     x[i] = valueAt(sinusoid, (start + i) / sampleRate)        i = 0 … count − 1
 *
 * @param sinusoid - As for {@link valueAt}; harmonics, offset and the decaying part included.
 * @param range - The sample rate in hertz, the number of samples up to 2^27, the number of the first one up to ±1e15. A
 * long record may be taken piece by piece: sample n is the same in every piece, within the accuracy.
 * @param out - Filled and returned where given; exactly `count` long.
 * @throws A {@link InputError} as {@link valueAt} does; for a sample rate that is not above twice the highest frequency,
 * since sampling would show another wave; for an `out` of another length.
 * Accuracy: 4e-13 of the peak for each cosine and 2e-14 of its largest sample for the decaying part, at any `start`:
 * the phase is kept with 32 digits, so that the error does not grow with time.
 * @source definition; C. E. Shannon, Communication in the presence of noise, Proceedings of the IRE 37 (1949), theorem 1
 *
 * @example
 * import { sample } from "tripwright/sinusoid";
 * const wave = sample({ rms: 10, frequency: 50, offset: 1 }, { sampleRate: 200, count: 5 });
 * Array.from(wave, (value) => value.toFixed(4)); // → ["15.1421", "1.0000", "-13.1421", "1.0000", "15.1421"]
 * sample({ rms: 10, frequency: 50 }, { sampleRate: 100, count: 5 }); // throws InputError
 */
export function sample(sinusoid: Sinusoid, range: SampleRange, out?: Float64Array): Float64Array {
  const { rms, frequency, angle = 0, offset = 0, decay, harmonics = [] } = checked(sinusoid);
  const { sampleRate, count, start = 0 } = options(range, ["sampleRate", "count", "start"]);
  whole(count, [0, MOST_SAMPLES], "count", "a number of samples");
  whole(start, [-1e15, 1e15], "start", "the number of a sample");
  const highest = harmonics.reduce((top, { order }) => Math.max(top, order * frequency), frequency);
  above(sampleRate, 2 * highest, "sampleRate", "a sample rate", "Hz, twice the highest frequency");
  const samples = room(out, count);

  const step = divide([frequency, 0], [sampleRate, 0]);
  const tones = [{ order: 1, rms, angle }, ...harmonics].map((wave): Tone => {
    const own = multiply([wave.order, 0], step);
    return {
      peak: Math.SQRT2 * wave.rms,
      turn: signedAngle(wave.angle ?? 0) / 360 + cyclesAfter(own, start),
      step: own,
    };
  });
  const initial = decay === undefined ? 0 : decay.initial * Math.exp(-(start / sampleRate) / decay.tau);
  const size = tones.reduce((sum, { peak, turn }) => sum + peak + turn, Math.abs(offset) + Math.abs(initial));
  // A phase that overflowed on its way is NaN here, and the recurrence needs room for twice the peak.
  if (!(size < 4e307)) fail("out-of-range", "", "parts whose sum is below 4e307", size);

  for (const [i, tone] of tones.entries()) {
    if (i === 0) fillTone(samples, tone, offset + 0);
    else addTone(samples, tone);
  }
  if (decay !== undefined) addDecay(samples, { initial, rate: Math.max(-1e4, -1 / (sampleRate * decay.tau)) });
  return samples;
}
