import type { Band } from "../base/band.js";
import { atLeast, finite, options } from "../base/check.js";
import { decimal, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { checkBand } from "./band.js";
import { counted } from "./counted.js";
import { checkFreedom } from "./coverage-factor.js";
import { upperTail } from "./distribution.js";

/** How well a reading is known. */
export interface Known {
  /** Standard uncertainty, in the unit of the reading, 0 or more. */
  readonly standardUncertainty: number;
  /** Degrees of freedom, 1 or more; absent: infinitely many. */
  readonly degreesOfFreedom?: number;
}

/**
 * The probability that the quantity itself lies within the band, given what was measured.
 *
 *     P = F((high − y)/u) − F((low − y)/u), F: the normal distribution, or Student's t with degrees of freedom
 *
 * A reading on a single limit has one half. Nothing is assumed of the quantity beforehand; where its spread is known,
 * see `acceptanceRisks`.
 *
 * @param measured - In the unit of the band; angles count as in `grade`, and what lies in a band of two limits by a turn more
 * or less is within it too.
 * @returns 0 to 1; without uncertainty 1 within the band and on its limits, else 0.
 * @throws A {@link InputError} for values that are not finite, a negative uncertainty and unknown keys.
 * Accuracy: 1e-14, outside the band 1e-12 relative.
 * @source JCGM 106:2012 7.2 to 7.4
 *
 * @example
 * import { conformanceProbability } from "tripwright/grading";
 * conformanceProbability(4.15, { nominal: 4, low: 3.8, high: 4.2 }, { standardUncertainty: 0.04 }).toFixed(3); // → "0.894"
 * conformanceProbability(4.2, { nominal: 4, high: 4.2 }, { standardUncertainty: 0.04 }); // → 0.5
 */
export function conformanceProbability(measured: number, band: Band, known: Known): number {
  const { standardUncertainty, degreesOfFreedom } = options(known, ["standardUncertainty", "degreesOfFreedom"]);
  atLeast(standardUncertainty, 0, "standardUncertainty", "a standard uncertainty");
  checkFreedom(degreesOfFreedom);
  within("band", () => checkBand(band));
  const typed = decimal(finite(measured, "measured", "a measured value"), "measured");
  const reading = toNumber(counted(typed, band), "measured");
  const spread = { standardUncertainty, ...(degreesOfFreedom !== undefined && { degreesOfFreedom }) };
  return Math.min(
    1,
    turnsOf(band).reduce((sum, turn) => sum + conforming(reading + turn, band, spread), 0),
  );
}

/** An angle between two limits is within by a turn more or less too; beyond a single limit there is no other way round. */
const turnsOf = ({ low, high, period }: Band): readonly number[] =>
  period === undefined || low === undefined || high === undefined ? [0] : [0, -period, period];

/** The same with everything checked. */
export function conforming(
  measured: number,
  { low = Number.NEGATIVE_INFINITY, high = Number.POSITIVE_INFINITY }: Pick<Band, "low" | "high">,
  { standardUncertainty: u, degreesOfFreedom }: Known,
): number {
  if (u === 0) return measured >= low && measured <= high ? 1 : 0;
  const beyond = (x: number): number => upperTail(x / u, degreesOfFreedom);
  // Outside the band it is the difference of two small tails, which from 1 would be lost.
  if (measured > high) return beyond(measured - high) - beyond(measured - low);
  return Math.max(0, beyond(low - measured) - beyond(high - measured));
}
