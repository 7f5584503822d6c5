/** Angles the short way round, in exact decimals. */
import type { Band } from "../base/band.js";
import { type Decimal, decimal, signedDegrees } from "../base/exact.js";

/**
 * A reading as it counts against a band: an angle the short way round from the middle of its limits, from the nominal angle
 * where one of them is absent. So a reading that lies within the limits by some way round is counted that way, also where
 * they reach beyond half a turn on one side, and one that does not is held against the limit that is nearer.
 */
export function counted(measured: Decimal, { nominal, low, high, period }: Band): Decimal {
  if (period === undefined) return measured;
  const middle =
    low === undefined || high === undefined
      ? decimal(nominal, "nominal")
      : decimal(low, "low").plus(decimal(high, "high")).div(2);
  return middle.plus(signedDegrees(measured.minus(middle)));
}
