import { above, atLeast, fail, options } from "../base/check.js";
import { upperQuantile } from "./distribution.js";

/** How much of a distribution is to be covered, and how well its width is known. */
export interface Coverage {
  /** The probability between the two limits, above 0 and below 1; default 0.95. */
  readonly coverage?: number;
  /** Degrees of freedom of the standard uncertainty, 1 or more; absent: infinitely many, the normal distribution. */
  readonly degreesOfFreedom?: number;
}

/**
 * The coverage factor k, by which a standard uncertainty becomes an expanded one: the two-sided quantile of Student's t
 * distribution, without degrees of freedom of the normal one.
 *
 * @param coverage - See {@link Coverage}. Degrees of freedom need not be whole; the GUM leaves it open whether to
 * interpolate, as here, or to truncate, as `combineUncertainty` does.
 * @throws A {@link InputError} for a coverage that does not lie between 0 and 1, fewer degrees of freedom than 1, and
 * unknown keys.
 * Accuracy: 1e-12 relative for a coverage of 0.001 or more, and 1e-15 itself below.
 * @source JCGM 100:2008 G.3.2 and Tables G.1, G.2
 *
 * @example
 * import { coverageFactor } from "tripwright/grading";
 * coverageFactor({ coverage: 0.95 }).toFixed(3); // → "1.960"
 * coverageFactor({ coverage: 0.95, degreesOfFreedom: 4 }).toFixed(2); // → "2.78"
 */
export function coverageFactor(coverage: Coverage = {}): number {
  const { coverage: probability = 0.95, degreesOfFreedom } = options(coverage, ["coverage", "degreesOfFreedom"]);
  checkCoverage(probability, "coverage");
  checkFreedom(degreesOfFreedom);
  return upperQuantile((1 - probability) / 2, degreesOfFreedom);
}

/** A probability between 0 and 1. */
export function checkCoverage(probability: number, path: string): number {
  if (above(probability, 0, path, "a probability") < 1) return probability;
  return fail("out-of-range", path, "a probability below 1", probability);
}

/** Degrees of freedom, where there are any: infinitely many are none. */
export function checkFreedom(degreesOfFreedom: number | undefined): void {
  if (degreesOfFreedom === Number.POSITIVE_INFINITY)
    fail(
      "not-finite",
      "degreesOfFreedom",
      "degrees of freedom of 1 or more, left out where they are infinitely many",
      degreesOfFreedom,
    );
  if (degreesOfFreedom !== undefined) atLeast(degreesOfFreedom, 1, "degreesOfFreedom", "degrees of freedom");
}
