import { options } from "../base/check.js";
import type { Degrees, Hertz } from "../base/units.js";
import type { Harmonic } from "../base/waveform.js";
import { clippedShare } from "./clipped.js";
import { colouring } from "./coloured.js";
import { componentsOf, UNKNOWN, uncertaintiesOf } from "./component.js";
import { findWave } from "./find-wave.js";
import { grainOf } from "./grain.js";
import { distortion } from "./thd.js";
import { checkedRate, cyclesIn, readTrace } from "./trace.js";

/** How the samples were taken. */
export interface MeasureOptions {
  readonly sampleRate: Hertz;
  /** About the frequency of the fundamental, where it is known; a fifth off is good enough. */
  readonly frequency?: Hertz;
}

/** What samples hold. From frequency to harmonics all is absent where nothing that repeats stands out of the rest. */
export interface Measurement {
  /** Of everything, over whole cycles; over all samples where nothing repeats. */
  readonly rms: number;
  /** Over the same. */
  readonly mean: number;
  /** The largest sample; the wave itself may go beyond it between two samples. */
  readonly maximum: number;
  readonly minimum: number;
  readonly peakToPeak: number;
  /**
   * The share of samples that lie flat on an extreme, equal or within the noise, as where an input is overdriven or a
   * source at its limit; 0 where none do, or no more than crests of the fundamental, rounded to the codes of a converter.
   */
  readonly clipped: number;
  /** The rms value of what is neither mean nor fundamental nor harmonic, such as noise. */
  readonly residualRms: number;
  readonly frequency?: Hertz;
  /** Of the fundamental, at the first sample. */
  readonly angle?: Degrees;
  /** The rms value of the fundamental. */
  readonly fundamental?: number;
  /** Harmonics over fundamental (THD-F, as IEC 61000-4-7 and IEEE Std 519 define THD), a ratio; absent without harmonics. */
  readonly thd?: number;
  /** Harmonics over fundamental and harmonics together (THD-R), a ratio. */
  readonly thdR?: number;
  /** From order 2 up to 50, or to what the rate and the length of the record allow. */
  readonly harmonics?: readonly Required<Harmonic>[];
  /**
   * Standard uncertainties, from the residual as if it were white noise; those of the fundamental from what of it lies beside
   * the fundamental, where that is far more, as where a d.c. component dies away.
   */
  readonly uncertainties: MeasurementUncertainties;
}

/** Standard uncertainties of what was measured. */
export interface MeasurementUncertainties {
  readonly rms: number;
  readonly mean: number;
  /** 0 where the frequency was kept as given. */
  readonly frequency?: Hertz;
  readonly angle?: Degrees;
  readonly fundamental?: number;
  /** How many more samples there are than unknowns: with few, all of them are known to little more than their size. */
  readonly degreesOfFreedom: number;
}

/**
 * Measures what the samples of a recorder hold: rms and mean over whole cycles, extremes, frequency, fundamental with its
 * angle, harmonics, distortion.
 *
 *     x(t) = mean + √2 · fundamental · cos(360 · frequency · t + angle) + harmonics + residual, t = 0 at the first sample
 *     rms = √(mean² + fundamental² + Σ rms_h² + residualRms²)
 *
 * Mean, all harmonics and the frequency are fitted at once by least squares, so that the record need not hold whole cycles,
 * nor a cycle whole samples. The search begins in the middle of the record, or where that is lively; without a frequency
 * at the lowest strong component, in which an offset that creeps does not count. A record of less than 1.4 cycles does not
 * tell its frequency: one that is given is then kept, and must be exact.
 *
 * It cannot be told from the samples whether the wave had components above half the rate: those come out as others below.
 * Jumps, as of a square wave, have some. What lies flat is reported in `clipped`, also where a wave is flat by nature (a
 * half-wave, a trapezoid), unless it has a few levels only.
 *
 * @param samples - Equally far apart, 8 or more: a cycle or more with a given frequency, else a cycle and a half.
 * @throws A {@link InputError} for samples that are not finite (by place) or too few, a rate that is too low for a given
 * frequency, unknown options.
 * Accuracy: where all components lie below half the rate and among the orders fitted, 2e-12 of the fundamental, and 1e-13
 * of the frequency. Of waves with kinks or jumps, with 200 samples a cycle and 3.7 cycles: rms 2e-5 of the peak (triangle,
 * rectified sines) and 2e-3 (square, sawtooth). Noise adds to distortion: every order takes its share of it.
 * @source rms: definition; fit: as {@link fitSinusoid}; thd: as {@link thd}; limits of search and clipping are choices
 *
 * @example
 * import { measure, sample } from "tripwright/sinusoid";
 * const wave = { rms: 4, frequency: 50, angle: -30, offset: 3, harmonics: [{ order: 3, rms: 0.4 }] };
 * const { rms, mean, frequency, angle, thd } = measure(sample(wave, { sampleRate: 3000, count: 140 }), { sampleRate: 3000 });
 * rms.toFixed(6); // → "5.015974"
 * mean.toFixed(6); // → "3.000000"
 * frequency?.toFixed(6); // → "50.000000"
 * angle?.toFixed(6); // → "-30.000000"
 * thd?.toFixed(6); // → "0.100000"
 */
export function measure(samples: ArrayLike<number>, given: MeasureOptions): Measurement {
  const { sampleRate, frequency } = options(given, ["sampleRate", "frequency"]);
  const trace = readTrace(samples, 8);
  const { values, half, maximum, minimum } = trace;
  checkedRate(sampleRate);
  if (frequency !== undefined) cyclesIn(trace, sampleRate, frequency);
  const grain = half === 0 ? 0 : grainOf(values);
  const fit = findWave(trace, frequency && frequency / sampleRate, grain);
  const [first, ...harmonics] = componentsOf(fit, trace);
  const mean = trace.middle + half * fit.parts[0]!;
  const residualRms = fit.residual * half;
  const amplitudes = harmonics.map((harmonic) => harmonic.rms);
  const rms = Math.hypot(mean, residualRms, first?.rms ?? 0, ...amplitudes);
  // ∂rms/∂mean = mean/rms, and for the others ∂rms/∂part = part/(2 · rms).
  const slopes = fit.parts.map((part, i) => (i > 0 ? (part * half) / 2 : mean) / (rms || 1));
  // The residual is part of the rms, and known to one part in √(2N).
  const inResidual = (residualRms * (residualRms / (rms || 1))) / Math.sqrt(2 * values.length);
  const spread = {
    rms: Math.hypot(fit.uncertainty(slopes) * half, inResidual),
    mean: fit.uncertainty([1]) * half,
    degreesOfFreedom: fit.degreesOfFreedom,
  };
  const range = { maximum, minimum, peakToPeak: maximum - minimum };
  if (first === undefined) return { rms, mean, ...range, clipped: 0, residualRms, uncertainties: spread };
  const { thdF, thdR } = distortion(first.rms, amplitudes);
  const white = uncertaintiesOf(fit, trace, sampleRate);
  const pull = colouring(values, fit);
  return {
    rms,
    mean,
    ...range,
    clipped: clippedShare(trace, { grain, noise: fit.residual, step: fit.step, peak: (first.rms / half) * Math.SQRT2 }),
    residualRms,
    frequency: fit.iterations > 0 ? fit.step * sampleRate : frequency!,
    angle: first.angle,
    fundamental: first.rms,
    ...(amplitudes.length > 0 && { thd: thdF!, thdR: thdR! }),
    harmonics,
    uncertainties: {
      ...spread,
      fundamental: white.rms * pull,
      angle: Math.min(UNKNOWN, white.angle * pull),
      frequency: white.frequency * pull,
    },
  };
}
