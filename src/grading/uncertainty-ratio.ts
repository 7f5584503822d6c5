import type { Band } from "../base/band.js";
import { above, fail, options } from "../base/check.js";
import { decimal, toNumber } from "../base/exact.js";
import { checkBand } from "./band.js";

/**
 * The test uncertainty ratio: how many times the expanded uncertainty goes into the tolerance.
 *
 *     two limits: (high − low)/(2·U);    one: its distance from nominal over U
 *
 * Four or more is the usual wish; below, guard the limits or leave verdicts undecided.
 *
 * @param band - With one limit at least.
 * @throws A {@link InputError} for a band without limits, and for an uncertainty that is not above 0.
 * Accuracy: the double nearest to the exact quotient of what was typed, so that four to one is 4.
 * @source ANSI/NCSL Z540.3 (test uncertainty ratio, U with k = 2); four to one: common practice
 *
 * @example
 * import { uncertaintyRatio } from "tripwright/grading";
 * uncertaintyRatio({ nominal: 4, low: 3.8, high: 4.2 }, { expandedUncertainty: 0.05 }).toFixed(2); // → "4.00"
 */
export function uncertaintyRatio(band: Band, known: { readonly expandedUncertainty: number }): number {
  const { expandedUncertainty } = options(known, ["expandedUncertainty"]);
  above(expandedUncertainty, 0, "expandedUncertainty", "an expanded uncertainty");
  const { nominal, low, high } = checkBand(band);
  if (low === undefined && high === undefined) fail("missing", "high", "a band with a limit", high);
  const uncertainty = decimal(expandedUncertainty, "expandedUncertainty");
  const [from, to] = [decimal(low ?? nominal, "low"), decimal(high ?? nominal, "high")];
  const sides = low === undefined || high === undefined ? 1 : 2;
  return toNumber(to.minus(from).abs().div(uncertainty.times(sides)), "expandedUncertainty");
}
