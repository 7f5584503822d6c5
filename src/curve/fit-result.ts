/** What comes out of a fit. */
import type { Seconds } from "../base/units.js";
import type { Curve, CurveName } from "./curve.js";

/**
 * Why a candidate has no fit.
 *
 * - `too-few-points`: the multiplier alone takes one point; else one different multiple (or level) more is needed than
 *   values are fitted, to judge the fit by: 3 with a free pickup, 4 with free constants (3 where c stays 0), one more with
 *   both
 * - `not-operating`: the function does not operate at one of the points, or a table does not reach it (with a free pickup:
 *   not even with a pickup of half the lowest level)
 * - `undetermined`: no best values were found, or the points leave the exponent or the pickup open by as much as it is
 */
export type NoCurveFitReason = "too-few-points" | "not-operating" | "undetermined";

/**
 * Standard uncertainties of what was fitted. Of points without uncertainties of their own they come from the scatter: an
 * interval then takes a quantile of Student's t for {@link CurveFit.degreesOfFreedom}.
 */
export interface FitUncertainties {
  readonly multiplier?: number;
  /** In the unit of the levels. */
  readonly pickup?: number;
  readonly k?: Seconds;
  readonly alpha?: number;
  readonly c?: Seconds;
}

/** A candidate with the values that fit best. */
export interface CurveFit {
  readonly kind: "found";
  /** The candidate as it was given, or the constants that were fitted. */
  readonly curve: CurveName | Curve;
  /** 1 where the constants were free: only multiplier · k and multiplier · c can be told. */
  readonly multiplier: number;
  /** Where it was free, in the unit of the levels. */
  readonly pickup?: number;
  /** Absent where no point is left to tell how far the points scatter. */
  readonly uncertainties?: FitUncertainties;
  /** Measured − fitted time of each point. */
  readonly residuals: readonly Seconds[];
  /** The root mean square of the residuals relative to the measured times: 0.01 is 1 %. */
  readonly relativeResidualRms: number;
  /** Σ (residual/uncertainty)², where these are known: about as much as degreesOfFreedom where all is well. */
  readonly chiSquared?: number;
  /** Points − fitted values. */
  readonly degreesOfFreedom: number;
  /** Other candidates that these points cannot tell from this one, best first. */
  readonly tiedWith: readonly (CurveName | Curve)[];
}

/** A candidate that has no fit. */
export interface NoCurveFit {
  readonly kind: "none";
  /** The candidate as it was given; absent: the free constants. */
  readonly curve?: CurveName | Curve;
  readonly reason: NoCurveFitReason;
}
