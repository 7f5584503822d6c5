import { above, atLeast, finite, options } from "../base/check.js";
import { integral } from "../base/quadrature.js";

/** What is computed as a magnitude, on average. */
export interface MagnitudeBias {
  /** Mean of the computed magnitudes. */
  readonly mean: number;
  /** The mean less the true magnitude; never negative. */
  readonly bias: number;
  /** Standard deviation of the computed magnitudes. */
  readonly standard: number;
}

/** Beyond so many standard uncertainties the asymptotic series holds to a double. */
const FAR = 12;

/**
 * What noise in both parts of a phasor does to its magnitude: a magnitude is never negative, so that one near 0 comes out too
 * large. The negative and zero sequence of a balanced set never measure as 0.
 *
 *     mean = u·√(π/2) · e^(−t)·((1 + 2t)·I₀(t) + 2t·I₁(t)),   t = (magnitude/2u)²
 *
 * @param phasor - `magnitude`: the true one, 0 or more; `standard`: the standard uncertainty u of each part, above 0, in the
 * same unit. The parts are normal, do not correlate, and are equally uncertain.
 * @throws A {@link InputError} for a magnitude below 0, an uncertainty that is not above 0, and unknown keys.
 * Accuracy: mean 1e-15, bias 2e-13 and standard deviation 1e-13, each of itself.
 * @source distribution of S. O. Rice, from memory; JCGM 102:2011 warns of it
 *
 * @example
 * import { magnitudeBias } from "tripwright/grading";
 * magnitudeBias({ magnitude: 0, standard: 0.01 }).mean.toFixed(4); // → "0.0125"
 * magnitudeBias({ magnitude: 1, standard: 0.01 }).bias.toFixed(7); // → "0.0000500"
 */
export function magnitudeBias(phasor: { readonly magnitude: number; readonly standard: number }): MagnitudeBias {
  const { magnitude, standard: u } = options(phasor, ["magnitude", "standard"]);
  atLeast(magnitude, 0, "magnitude", "a magnitude");
  above(u, 0, "standard", "a standard uncertainty");
  const size = finite(magnitude / u, "standard", "an uncertainty that the magnitude fits");
  const bias = size > FAR ? farBias(size) : nearMean((size * size) / 4) - size;
  // E[m²] = magnitude² + 2u², less the square of the mean, with the magnitude taken out.
  const variance = 2 - 2 * (bias * size) - bias * bias;
  const mean = finite(magnitude + u * bias, "magnitude", "a magnitude whose mean fits a double");
  return { mean, bias: u * bias, standard: u * Math.sqrt(variance) };
}

/** The Bessel functions by their integral over an angle, in which the factor e^(−t) only helps. */
function nearMean(t: number): number {
  const bump = (angle: number): number => Math.exp(t * (Math.cos(angle) - 1)) * (1 + 2 * t * (1 + Math.cos(angle)));
  return integral(bump, 0, Math.PI) / Math.sqrt(2 * Math.PI);
}

/** Σ size · ((−½)·½·…·(k − 3/2))²/(k!·(size²/2)^k) from k = 1 on, until the terms are lost in rounding. */
function farBias(size: number): number {
  let [sum, term] = [0, 0.5 / size];
  for (let k = 2; term > 1e-17 * sum; k++) {
    sum += term;
    term *= (((k - 1.5) / size) ** 2 * 2) / k;
  }
  return sum;
}
