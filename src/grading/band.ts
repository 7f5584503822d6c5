import type { Band } from "../base/band.js";
import { atLeast, fail, object, options } from "../base/check.js";
import { type Decimal, decimal, type Exact, larger, toNumber } from "../base/exact.js";

/**
 * How far from nominal is accepted: "5 % or 40 ms, whichever is greater" is `{ percent: 5, absolute: 0.04 }`.
 * At least one of `percent` and `absolute` is given.
 */
export interface Tolerance {
  /** Percent of the nominal value, 0 or more. */
  readonly percent?: Exact;
  /** In the unit of the nominal value, 0 or more. */
  readonly absolute?: Exact;
  /** Which counts where both are given: the greater (default) or their sum. */
  readonly combine?: "greater" | "sum";
  /** Which limit there is: both (default), only the lower one, or only the upper one ("at most"). */
  readonly side?: "both" | "low" | "high";
}

/**
 * The band of accepted values about a nominal one.
 *
 *     half-width = greater (or sum) of percent/100 · |nominal| and absolute
 *
 * @param nominal - In the unit of the quantity; text is read exactly.
 * @param tolerance - See {@link Tolerance}.
 * @returns Limits in the unit of the nominal value; with `side: "high"` there is no lower limit, and the other way round.
 * @throws A {@link InputError} for values that are not finite, negative tolerances, none at all, and unknown keys.
 * Accuracy: limits are computed in exact decimals and rounded once, so that a typed reading on a limit is on it.
 * @source common practice ("whichever is greater")
 *
 * @example
 * import { band } from "tripwright/grading";
 * band(4, { percent: 5, absolute: 0.1 }); // → { nominal: 4, low: 3.8, high: 4.2 }
 * band(0.02, { absolute: 0.04, side: "high" }); // → { nominal: 0.02, high: 0.06 }
 */
export function band(nominal: Exact, tolerance: Tolerance): Band {
  const center = decimal(nominal, "nominal", "a nominal value");
  const half = halfWidth(center, tolerance);
  const { side = "both" } = tolerance;
  return {
    nominal: toNumber(center, "nominal"),
    ...(side !== "high" && { low: toNumber(center.minus(half), "nominal") }),
    ...(side !== "low" && { high: toNumber(center.plus(half), "nominal") }),
  };
}

function halfWidth(center: Decimal, tolerance: Tolerance): Decimal {
  const {
    percent,
    absolute,
    combine = "greater",
    side = "both",
  } = options(tolerance, ["percent", "absolute", "combine", "side"]);
  if (percent === undefined && absolute === undefined)
    fail("missing", "", "a percent or an absolute tolerance", tolerance);
  if (combine !== "greater" && combine !== "sum") fail("unknown-name", "combine", "greater or sum", combine);
  if (side !== "both" && side !== "low" && side !== "high") fail("unknown-name", "side", "both, low or high", side);
  const relative = notNegative(percent ?? 0, "percent")
    .div(100)
    .times(center.abs());
  const fixed = notNegative(absolute ?? 0, "absolute");
  return combine === "sum" ? relative.plus(fixed) : larger(relative, fixed);
}

function notNegative(value: Exact, path: string): Decimal {
  const read = decimal(value, path, "a tolerance");
  return read.isNegative() && !read.isZero() ? fail("out-of-range", path, "a tolerance of 0 or more", value) : read;
}

/** Checks a band that somebody wrote by hand: finite, limits in order. */
export function checkBand(given: Band): Band {
  object(given, "", "a band { nominal, low, high }");
  const { low, high, nominal } = given;
  for (const [path, value] of [
    ["nominal", nominal],
    ["low", low],
    ["high", high],
  ] as const) {
    if (value !== undefined || path === "nominal") decimal(value as number, path, "a number");
  }
  if (low !== undefined && high !== undefined) atLeast(high, low, "high", "an upper limit");
  return given;
}
