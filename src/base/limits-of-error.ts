/** Limits of error, as a standard uncertainty. */
import type { Band } from "./band.js";
import { decimal, larger, toNumber } from "./exact.js";

/**
 * What lies anywhere between limits, and nowhere more likely: the farther limit from the nominal value over √3. Their distance is
 * exact, as the limits are; a limit that is not there counts as the nominal value.
 *
 * @source JCGM 100:2008 4.3.7
 */
export function standardOfLimits({ nominal, low = nominal, high = nominal }: Band): number {
  const middle = decimal(nominal, "nominal");
  const half = larger(decimal(high, "high").minus(middle), middle.minus(decimal(low, "low")));
  return toNumber(half, "high") / Math.sqrt(3);
}
