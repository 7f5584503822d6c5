/** By how much limits are guarded against the uncertainty of a reading. */
import { fail, nameIn, options } from "../base/check.js";
import type { Decimal, Exact } from "../base/exact.js";
import { notNegative, positive } from "../base/positive.js";

/**
 * Named guard widths: the expanded uncertainty U (ILAC-G8), or 1.65 times the standard uncertainty u = U/k (ISO 14253-1:
 * 5 % risk at one limit).
 */
export type GuardName = "ilac-g8" | "iso-14253-1";

/** What a guard is made of. */
export interface Guarding {
  /** Expanded uncertainty of the reading in its own unit, 0 or more; the rules other than `simple` need it. */
  readonly expandedUncertainty?: Exact;
  /** k of the expanded uncertainty, above 0; default 2. */
  readonly coverageFactor?: Exact;
  /** Default `ilac-g8`; or a width of one's own in the unit of the reading, 0 or more, such as that of a wanted risk. */
  readonly guard?: GuardName | { readonly width: Exact };
}

/** The keys of {@link Guarding}. */
export const GUARDING: readonly string[] = ["expandedUncertainty", "coverageFactor", "guard"];

const WIDTHS: Readonly<Record<GuardName, (expanded: Decimal, factor: Decimal) => Decimal>> = {
  "ilac-g8": (expanded) => expanded,
  "iso-14253-1": (expanded, factor) => expanded.div(factor).times("1.65"),
};

/** Reads the width of the guard; 0 under a rule that needs none and is given none. */
export function readGuard(
  { expandedUncertainty, coverageFactor = 2, guard = "ilac-g8" }: Guarding,
  rule: string,
): Decimal {
  const factor = positive(coverageFactor, "coverageFactor", "a coverage factor");
  const expanded = notNegative(expandedUncertainty ?? 0, "expandedUncertainty", "an expanded uncertainty");
  if (typeof guard === "object" && guard !== null) {
    return notNegative(options(guard, ["width"], "guard").width, "guard.width", "a width");
  }
  const width = WIDTHS[nameIn(guard, WIDTHS, "guard")];
  if (expandedUncertainty === undefined && rule !== "simple") {
    fail(
      "missing",
      "expandedUncertainty",
      `an expanded uncertainty, which the ${rule} rule needs`,
      expandedUncertainty,
    );
  }
  return width(expanded, factor);
}
