import type { Answer } from "../base/answer.js";
import { fail, options } from "../base/check.js";
import type { Degrees, Hertz } from "../base/units.js";
import type { Harmonic } from "../base/waveform.js";
import { componentsOf, type SinusoidUncertainties, uncertaintiesOf } from "./component.js";
import { fitHarmonics, type HarmonicFailure, type HarmonicFit } from "./harmonic-fit.js";
import { energyAlong, liveliest, withoutLine } from "./liveliest.js";
import { cyclesIn, readTrace } from "./trace.js";

/** How the samples were taken, and where the fit begins. */
export interface FitSinusoidOptions {
  readonly sampleRate: Hertz;
  /** Where the search begins; a fifth off is still found, on a record of any length. */
  readonly frequency: Hertz;
  /** The frequency is known, and kept: the three-parameter fit. Default false. */
  readonly fixedFrequency?: boolean;
}

/** A fitted sinusoid; {@link valueAt} takes it as it is, with t counted from the first sample. */
export interface SinusoidFit {
  readonly rms: number;
  /** At the first sample. */
  readonly angle: Degrees;
  readonly frequency: Hertz;
  readonly offset: number;
  /** The rms value of samples − fit, over all samples. */
  readonly residualRms: number;
  /** Steps of the search; 0 where the frequency is kept, since that fit is linear. */
  readonly iterations: number;
  /** Standard uncertainties, from the residual as if it were white noise. */
  readonly uncertainties: SinusoidUncertainties;
}

/**
 * Why there is no fit: the samples are all equal; what lies near the given frequency is small beside the residual, so that
 * the sinusoid lies elsewhere; the search did not settle.
 */
export type NoSinusoidFit = "no-signal" | HarmonicFailure;

/** Of the residual. A search that settles beside the line of a spectrum finds less than a quarter of it. */
const LEAST = 0.3;

/**
 * Fits a sinusoid with an offset to equidistant samples by least squares.
 *
 *     x(t) = √2 · rms · cos(360 · frequency · t + angle) + offset, with t = 0 at the first sample
 *
 * With `fixedFrequency` that is the linear three-parameter fit. Without, the four-parameter fit, by Gauss–Newton steps from
 * the given frequency: on three cycles in the middle first, and then on ever more of the record; where that leads nowhere, once
 * more from where the record is liveliest, since it may dip, jump or be dead in part. Harmonics are left in the residual; on
 * a few cycles they also pull on what is fitted, and {@link measure}, which fits them too, is the better choice.
 *
 * @param samples - Equally far apart, a cycle or more, and one sample more than there are unknowns (3 and the frequency).
 * @throws A {@link InputError} for samples that are not finite (by place), a record shorter than a cycle, a rate that is too
 * low for the frequency, unknown options.
 * Accuracy: with the frequency kept, 1e-14 of the largest sample against exact least squares. Without, the search ends
 * within 1e-11 rad of the least squares; from samples without noise rms and offset come back within 2e-13 of the rms, the
 * frequency within 2e-14 of itself, the angle within 2e-11°. A sinusoid of more than half the rate cannot be told from its
 * image below.
 * @source IEEE Std 1057 (three- and four-parameter sine fits), from memory; uncertainties: covariance of linear least squares
 *
 * @example
 * import { fitSinusoid, sample } from "tripwright/sinusoid";
 * const samples = sample({ rms: 63.5, frequency: 49.9, angle: 30, offset: 1 }, { sampleRate: 2000, count: 300 });
 * const fit = fitSinusoid(samples, { sampleRate: 2000, frequency: 50 });
 * if (fit.kind === "found") {
 *   fit.rms.toFixed(6); // → "63.500000"
 *   fit.angle.toFixed(6); // → "30.000000"
 *   fit.frequency.toFixed(6); // → "49.900000"
 *   fit.offset.toFixed(6); // → "1.000000"
 * }
 */
export function fitSinusoid(samples: ArrayLike<number>, given: FitSinusoidOptions): Answer<SinusoidFit, NoSinusoidFit> {
  const {
    sampleRate,
    frequency,
    fixedFrequency = false,
  } = options(given, ["sampleRate", "frequency", "fixedFrequency"]);
  if (typeof fixedFrequency !== "boolean") fail("wrong-type", "fixedFrequency", "true or false", fixedFrequency);
  const trace = readTrace(samples, fixedFrequency ? 4 : 5);
  const { values, half } = trace;
  cyclesIn(trace, sampleRate, frequency);
  if (half === 0) return { kind: "none", reason: "no-signal" };
  const fitFrom = (from?: (reach: number) => number): HarmonicFit | HarmonicFailure => {
    const fit = fitHarmonics(values, { step: frequency / sampleRate, highest: () => 1, free: !fixedFrequency, from });
    if (typeof fit === "string" || fixedFrequency) return fit;
    return componentsOf(fit, trace)[0]!.rms < LEAST * fit.residual * half ? "too-far" : fit;
  };
  let fit = fitFrom();
  if (typeof fit === "string") {
    // The middle of the record may be dead, or jump.
    const energy = energyAlong(withoutLine(values));
    fit = fitFrom((reach) => liveliest(energy, reach));
  }
  if (typeof fit === "string") return { kind: "none", reason: fit };
  const [{ rms, angle }] = componentsOf(fit, trace) as [Required<Harmonic>];
  return {
    kind: "found",
    rms,
    angle,
    frequency: fixedFrequency ? frequency : fit.step * sampleRate,
    offset: trace.middle + fit.parts[0]! * half,
    residualRms: fit.residual * half,
    iterations: fit.iterations,
    uncertainties: uncertaintiesOf(fit, trace, sampleRate),
  };
}
