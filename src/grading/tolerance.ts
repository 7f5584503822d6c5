import { fail, nameIn, object, options } from "../base/check.js";
import { type Decimal, type Exact, larger } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { notNegative, positive } from "../base/positive.js";

/**
 * How far from nominal is accepted: "5 % or 40 ms, whichever is greater" is `{ percent: 5, absolute: 0.04 }`.
 * At least one of `percent` and `absolute` is given.
 */
export interface Tolerance {
  /** Percent of what `of` says, 0 or more. */
  readonly percent?: Exact;
  /**
   * What the percentage is of: the nominal value (default: "of setting"), the reading itself, or the full scale of an
   * instrument.
   */
  readonly of?: "nominal" | "reading" | "full-scale";
  /** In the unit of the nominal value, above 0; needed where `of` says so, and refused elsewhere. */
  readonly fullScale?: Exact;
  /** In the unit of the nominal value, 0 or more. */
  readonly absolute?: Exact;
  /** Which counts where both are given: the greater (default) or their sum. */
  readonly combine?: "greater" | "sum";
  /** Which limit there is: both (default), only the lower one, or only the upper one ("at most"). */
  readonly side?: "both" | "low" | "high";
}

/** A tolerance that differs between the sides: "−0 +40 ms"; a side that is absent has no limit. */
export interface LopsidedTolerance {
  readonly below?: Omit<Tolerance, "side">;
  readonly above?: Omit<Tolerance, "side">;
}

/** The limits that a tolerance leaves about a nominal value. */
export interface Limits {
  readonly low?: Decimal;
  readonly high?: Decimal;
}

const KEYS = ["percent", "of", "fullScale", "absolute", "combine"];
const OF = { nominal: true, reading: true, "full-scale": true };
const COMBINE = { greater: true, sum: true };
const SIDE = { both: true, low: true, high: true };

/** Reads a tolerance of either kind. */
export function limitsOf(center: Decimal, tolerance: Tolerance | LopsidedTolerance): Limits {
  object(tolerance, "", "a tolerance such as { percent: 5, absolute: 0.04 }");
  if ("below" in tolerance || "above" in tolerance) {
    const { below, above } = options(tolerance, ["below", "above"]);
    if (below === undefined && above === undefined) fail("missing", "", "a tolerance below or above", tolerance);
    return {
      ...(below !== undefined && { low: within("below", () => limit(center, -1, options(below, KEYS))) }),
      ...(above !== undefined && { high: within("above", () => limit(center, 1, options(above, KEYS))) }),
    };
  }
  const { side = "both", ...both } = options(tolerance as Tolerance, [...KEYS, "side"]);
  nameIn(side, SIDE, "side");
  return {
    ...(side !== "high" && { low: limit(center, -1, both) }),
    ...(side !== "low" && { high: limit(center, 1, both) }),
  };
}

type Direction = 1 | -1;

function limit(center: Decimal, direction: Direction, tolerance: Tolerance): Decimal {
  const { percent, absolute, combine = "greater", of = "nominal" } = tolerance;
  if (percent === undefined && absolute === undefined)
    fail("missing", "", "a percent or an absolute tolerance", tolerance);
  nameIn(combine, COMBINE, "combine");
  nameIn(of, OF, "of");
  if (tolerance.fullScale !== undefined && of !== "full-scale")
    fail("not-applicable", "fullScale", "no full scale, of which the percentage is not", tolerance.fullScale);
  const share = notNegative(percent ?? 0, "percent", "a tolerance", "%").div(100);
  const fixed = notNegative(absolute ?? 0, "absolute", "a tolerance");
  if (of === "reading") return limitOfReading(center, direction, { share, fixed, combine, percent });
  const relative = share.times(
    of === "nominal" ? center.abs() : positive(tolerance.fullScale, "fullScale", "a full scale"),
  );
  const half = combine === "sum" ? relative.plus(fixed) : larger(relative, fixed);
  return center.plus(half.times(direction));
}

interface OfReading {
  readonly percent: Exact | undefined;
  readonly share: Decimal;
  readonly fixed: Decimal;
  readonly combine: "greater" | "sum";
}

/** The reading r at which |r − nominal| = share · |r| + fixed, or the farther one of the two alone. */
function limitOfReading(center: Decimal, direction: Direction, { share, fixed, combine, percent }: OfReading): Decimal {
  if (share.gte(1)) fail("out-of-range", "percent", "a tolerance below 100 % of the reading", percent);
  const solved = (more: Decimal): Decimal => {
    const moved = center.plus(more.times(direction));
    return moved.div(share.times(moved.isNegative() ? direction : -direction).plus(1));
  };
  if (combine === "sum") return solved(fixed);
  const [relative, absolute] = [solved(fixed.times(0)), center.plus(fixed.times(direction))];
  return relative.minus(absolute).times(direction).isNegative() ? absolute : relative;
}
