import { above, fail } from "../base/check.js";

/** Of 1/c₄² − 1 in powers of 1/(n − 1), from the first one on. */
const SERIES = [1 / 2, 1 / 8, -1 / 16, -5 / 128, 23 / 256, 53 / 1024, -593 / 2048] as const;
const FROM_HERE_ON_SERIES = 100;

/**
 * How well the standard deviation of a few readings is itself known, as a ratio: five shots leave a third of it open.
 *
 *     √(1/c₄² − 1),   c₄ = √(2/(n − 1)) · Γ(n/2)/Γ((n − 1)/2)
 *
 * which is about 1/√(2(n − 1)).
 *
 * @param count - How many readings, 2 or more.
 * @throws A {@link InputError} for anything but a whole number of 2 or more.
 * Accuracy: 1e-14 relative.
 * @source JCGM 100:2008 E.4.3 and Table E.1 (normally distributed readings)
 *
 * @example
 * import { deviationUncertainty } from "tripwright/grading";
 * deviationUncertainty(5).toFixed(2); // → "0.36"
 */
export function deviationUncertainty(count: number): number {
  if (!Number.isInteger(count) || count < 2)
    fail(count === undefined ? "missing" : "out-of-range", "count", "a whole number of readings, 2 or more", count);
  return Math.sqrt(count < FROM_HERE_ON_SERIES ? byRecurrence(count) : bySeries(1 / (count - 1)));
}

/** From c₄(2)² = 2/π on by c₄(n)² · c₄(n + 1)² = (n − 1)/n, written for 1/c₄² − 1 itself, which else would cancel. */
function byRecurrence(count: number): number {
  let rest = Math.PI / 2 - 1;
  for (let n = 1; n < count - 1; n++) rest = (1 - n * rest) / (n * (1 + rest));
  return rest;
}

const bySeries = (w: number): number => w * SERIES.reduceRight((sum, term) => sum * w + term, 0);

/**
 * The degrees of freedom that an estimate of an uncertainty is worth, from how far it may be off: "right within a quarter"
 * is worth eight.
 *
 *     ν = 1/(2 · ratio²)
 *
 * @param ratio - The standard uncertainty of the uncertainty over itself, above 0.
 * @throws A {@link InputError} for a ratio that is not above 0, and one so small that the result does not fit a double.
 * Accuracy: 2 units in the last place.
 * @source JCGM 100:2008 G.4.2 (formula G.3)
 *
 * @example
 * import { degreesOfFreedomFrom } from "tripwright/grading";
 * degreesOfFreedomFrom(0.25); // → 8
 */
export function degreesOfFreedomFrom(ratio: number): number {
  const found = 0.5 / above(ratio, 0, "ratio", "a ratio") / ratio;
  return Number.isFinite(found) ? found : fail("out-of-range", "ratio", "a ratio above 1e-154", ratio);
}
