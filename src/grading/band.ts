import type { Band } from "../base/band.js";
import { atLeast, fail, finite, object, options } from "../base/check.js";
import { decimal, type Exact, toNumber } from "../base/exact.js";
import { type LopsidedTolerance, limitsOf, type Tolerance } from "./tolerance.js";

/** What else a band says. */
export interface BandOptions {
  /** 360 for angles in degrees, so that 179.5° lies 1° from −179.5°. */
  readonly period?: 360;
}

/**
 * The band of accepted values about a nominal one.
 *
 *     half-width = greater (or sum) of percent/100 · |nominal| and absolute
 *
 * A percentage of the reading is solved for the readings on the limits: 5 % of it about 4 A leaves 4/1.05 to 4/0.95 A.
 *
 * @param nominal - In the unit of the quantity; text is read exactly.
 * @param tolerance - See {@link Tolerance} and {@link LopsidedTolerance}; `period: 360` beside it for angles.
 * @returns Limits in the unit of the nominal value; with `side: "high"` there is no lower limit, and the other way round.
 * Limits of an angle are counted on from the nominal angle, and may lie beyond ±180°.
 * @throws A {@link InputError} for values that are not finite, negative tolerances, none at all, and unknown keys.
 * Accuracy: limits are computed in exact decimals and rounded once, so that a typed reading on a limit is on it.
 * @source common practice ("whichever is greater")
 *
 * @example
 * import { band } from "tripwright/grading";
 * band(4, { percent: 5, absolute: 0.1 }); // → { nominal: 4, low: 3.8, high: 4.2 }
 * band(0.02, { absolute: 0.04, side: "high" }); // → { nominal: 0.02, high: 0.06 }
 * band(0.5, { below: { absolute: 0 }, above: { absolute: 0.04 } }); // → { nominal: 0.5, low: 0.5, high: 0.54 }
 * band(179, { absolute: 2, period: 360 }); // → { nominal: 179, low: 177, high: 181, period: 360 }
 */
export function band(nominal: Exact, tolerance: (Tolerance | LopsidedTolerance) & BandOptions): Band {
  const { period, ...accepted } = object(tolerance, "", "a tolerance such as { percent: 5, absolute: 0.04 }");
  const center = decimal(nominal, "nominal", "a nominal value");
  const { low, high } = limitsOf(center, accepted);
  return checkPeriod({
    nominal: toNumber(center, "nominal"),
    ...(low !== undefined && { low: toNumber(low, "nominal") }),
    ...(high !== undefined && { high: toNumber(high, "nominal") }),
    ...(period !== undefined && { period }),
  });
}

function checkPeriod(given: Band): Band {
  const { period } = given;
  return period === undefined || period === 360
    ? given
    : fail("out-of-range", "period", "360, or none where it is no angle", period);
}

/** Checks a band that somebody wrote by hand: finite, limits in order, and nothing misspelt, which would be no limit at all. */
export function checkBand(given: Band): Band {
  object(given, "", "a band { nominal, low, high }");
  const { low, high, nominal } = options(given, ["nominal", "low", "high", "period"]);
  for (const [path, value] of [
    ["nominal", nominal],
    ["low", low],
    ["high", high],
  ] as const) {
    if (value !== undefined || path === "nominal") finite(value, path, "a number");
  }
  if (low !== undefined && high !== undefined) atLeast(high, low, "high", "an upper limit");
  return checkPeriod(given);
}
