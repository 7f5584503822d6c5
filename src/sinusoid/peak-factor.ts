import { firstPeak } from "./first-peak.js";
import { offsetSinusoid } from "./offset-sinusoid.js";
import { checkedRatio } from "./x-over-r.js";

/**
 * The peak factor κ of IEC 60909-0: the highest peak of a fault current over the peak of its symmetrical part.
 *
 *     κ = 1.02 + 0.98 · exp(−3 / (X/R))
 *
 * An approximation: against {@link exactPeakFactor} 2 % high where X/R is small, 0.4 % low about X/R = 1.5, 0.6 % high
 * about 8, and nearer beyond. The limits that the standard sets for its methods are not applied.
 *
 * @param xOverR - 0 or more; `Infinity` for a circuit without resistance.
 * @throws A {@link InputError} for a negative X/R.
 * Accuracy: within 2 units in the last place.
 * @source IEC 60909-0 (formula seen in an open companion, not in the standard)
 *
 * @example
 * import { peakFactor } from "tripwright/sinusoid";
 * peakFactor(14).toFixed(3); // → "1.811"
 * (Math.SQRT2 * 10_000 * peakFactor(14)).toFixed(0); // → "25611"
 */
export function peakFactor(xOverR: number): number {
  return 1.02 + 0.98 * Math.exp(-3 / checkedRatio(xOverR));
}

/**
 * The true peak factor of a fault at zero voltage, which gives the highest peak: that of {@link firstPeak} over the peak of
 * the symmetrical current.
 *
 * @param xOverR - 0 or more; `Infinity` for a circuit without resistance.
 * @returns From 1 to 2.
 * @throws A {@link InputError} for a negative X/R.
 * Accuracy: within 4 units in the last place.
 * @source a voltage switched onto R and L in series, at its zero crossing
 *
 * @example
 * import { exactPeakFactor } from "tripwright/sinusoid";
 * exactPeakFactor(14).toFixed(3); // → "1.803"
 */
export function exactPeakFactor(xOverR: number): number {
  return firstPeak(offsetSinusoid({ rms: 1, frequency: 1, inception: 0, xOverR })).peak / Math.SQRT2;
}
