import { correlate } from "./correlate.js";
import { type HarmonicFit, residualOf } from "./harmonic-fit.js";

/** Lines of the spectrum, counted from that of the fundamental: beside what the fit has taken out. */
const BESIDE = [-2, -1, 1, 2];
/** Of pure noise the mean of four lines is four times the variance in one record of ten thousand. */
const CHANCE = 4;

/**
 * How much more of the residual there is beside the fundamental than in white noise of its variance, in amplitude: 1, or more
 * where a d.c. component dies away, the wave swells or another is near. By that much the fundamental may be pulled.
 */
export function colouring(values: Float64Array, fit: HarmonicFit): number {
  const rest = residualOf(values, fit);
  const count = rest.length;
  const lines = BESIDE.map((line) => fit.step + line / count).filter((step) => step * count > 0.5);
  const powers = lines.map((step) => {
    const { cosine, sine } = correlate(rest, step);
    return cosine * cosine + sine * sine;
  });
  const ratio = powers.reduce((sum, power) => sum + power, 0) / lines.length / count / fit.variance;
  return ratio > CHANCE ? Math.sqrt(ratio) : 1;
}
