import type { Answer } from "../base/answer.js";
import type { Band } from "../base/band.js";
import { above, finite, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { checkBand } from "./band.js";
import type { Known } from "./conformance.js";
import { checkCoverage, checkFreedom } from "./coverage-factor.js";
import { upperQuantile, upperTail } from "./distribution.js";

/** The risk that is wanted, and what it is run with. */
export interface WantedRisk extends Known {
  /**
   * The probability that a quantity measured right at a limit of acceptance lies outside the band, above 0 and below 1:
   * the specific consumer's risk at its worst.
   */
  readonly risk: number;
  /** Needed where the other limit counts too, since the uncertainty is not small beside the band. */
  readonly band?: Band;
}

/**
 * The guard band that keeps the specific consumer's risk: by how much the limits are drawn in for acceptance.
 *
 *     one limit: w = u · F⁻¹(1 − risk);    two: P(above high) + P(below low) = risk for y = high − w
 *
 * @returns The width in the unit of the uncertainty, negative for a risk above one half; or `no-acceptance`, where even the
 * middle of the band has a greater risk.
 * @throws A {@link InputError} for a risk that does not lie between 0 and 1, an uncertainty that is not above 0,
 * fewer degrees of freedom than 1, and unknown keys.
 * Accuracy: 1e-12 of the uncertainty, of a width of more than one uncertainty 1e-12 of itself. Near the middle between two limits
 * the risk is flat, and its last digit moves the width by up to 1e-8 of the uncertainty.
 * @source JCGM 106:2012 8.3.2; ILAC-G8:09/2019 Table 1 (from memory)
 *
 * @example
 * import { guardBand } from "tripwright/grading";
 * const answer = guardBand({ risk: 0.05, standardUncertainty: 0.02 });
 * answer.kind === "found" && answer.width.toFixed(5); // → "0.03290"
 * guardBand({ risk: 0.05, standardUncertainty: 0.2, band: { nominal: 4, low: 3.8, high: 4.2 } }); // → { kind: "none", reason: "no-acceptance" }
 */
export function guardBand(wanted: WantedRisk): Answer<{ width: number }, "no-acceptance"> {
  const {
    risk,
    standardUncertainty: u,
    degreesOfFreedom,
    band,
  } = options(wanted, ["risk", "standardUncertainty", "degreesOfFreedom", "band"]);
  checkCoverage(risk, "risk");
  above(u, 0, "standardUncertainty", "a standard uncertainty");
  checkFreedom(degreesOfFreedom);
  const oneSided = finite(
    u * upperQuantile(risk, degreesOfFreedom),
    "standardUncertainty",
    "a guard band that fits a double",
  );
  if (band === undefined) return { kind: "found", width: oneSided };
  const { low, high } = within("band", () => checkBand(band));
  if (low === undefined || high === undefined) return { kind: "found", width: oneSided };
  // The two tails are added up, since a small risk would be lost in what is left of 1.
  const beyond = (away: number): number => upperTail(away / u, degreesOfFreedom);
  const excess = (width: number): number => beyond(width) + beyond(high - low - width) - risk;
  const middle = (high - low) / 2;
  if (excess(middle) > 0) return { kind: "none", reason: "no-acceptance" };
  return { kind: "found", width: rootOfFalling(excess, [Math.min(oneSided, middle), middle]) };
}

/** Halving, since both limits' tails together have no slope worth computing. */
function rootOfFalling(f: (x: number) => number, [low, high]: readonly [number, number]): number {
  let [a, b] = [low, high];
  for (let middle = (a + b) / 2; middle > a && middle < b; middle = (a + b) / 2) {
    if (f(middle) > 0) a = middle;
    else b = middle;
  }
  return b;
}
