import type { Band } from "../base/band.js";
import { fail, finite, object, options } from "../base/check.js";
import { type Decimal, decimal, type Exact, isBelow, signedDegrees, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { notNegative, positive } from "../base/positive.js";
import { checkBand } from "./band.js";
import { type DecisionRule, type Grade, grade } from "./grade.js";

/** A value with its standard uncertainty, where one is known. */
export interface KnownValue {
  readonly value: Exact;
  readonly standard?: Exact;
}

/** As found and as left, or an older record and a newer one. */
export interface Stages {
  readonly before: KnownValue;
  readonly after: KnownValue;
  /** What both are held against. */
  readonly band?: Band;
  /** How the uncertainties enter the verdicts, the guard being the expanded one of each; default `simple`. */
  readonly rule?: DecisionRule;
  /** Default 2. */
  readonly coverageFactor?: Exact;
  /**
   * How the errors of the two go together, from −1 to 1; default 0. Two readings of one instrument share its own error, which
   * the change does not see: the share of the variance that is its own is the correlation.
   */
  readonly correlation?: number;
}

/** What changed between two readings of the same thing. */
export interface Change {
  /** After − before; of angles the short way round, above −180° and up to 180°. */
  readonly change: number;
  /** Of the change; absent where one of them has no uncertainty. */
  readonly expanded?: number;
  /** The change is larger than its expanded uncertainty; absent where that is not known. */
  readonly significant?: boolean;
  readonly before?: Grade;
  readonly after?: Grade;
}

const KEYS = ["before", "after", "band", "rule", "coverageFactor", "correlation"];

/**
 * Two readings of the same thing compared: by how much it changed, whether that is more than the readings can tell, and how
 * each stands against the band.
 *
 *     U = k · √(u₁² + u₂² − 2·r·u₁·u₂),   significant: |after − before| > U
 *
 * @throws A {@link InputError} for values that are not finite, negative uncertainties, a bad band, a correlation beyond ±1,
 * a rule that needs an uncertainty that is not given, a rule without a band, and unknown keys.
 * Accuracy: verdicts and significance are exact in decimals; change and expanded uncertainty are the nearest doubles.
 * @source JCGM 100:2008 5.1.2 and 5.2.2 (formulas 10 and 16)
 *
 * @example
 * import { changeBetween } from "tripwright/grading";
 * const { change, expanded, significant, before, after } = changeBetween({
 *   before: { value: 4.31, standard: 0.03 }, after: { value: 4.02, standard: 0.04 }, band: { nominal: 4, low: 3.8, high: 4.2 },
 * });
 * [change, expanded, significant]; // → [-0.29, 0.1, true]
 * [before?.verdict, after?.verdict]; // → ["outside", "within"]
 */
export function changeBetween(stages: Stages): Change {
  const { band, rule = "simple", coverageFactor = 2, correlation = 0 } = options(stages, KEYS);
  const before = within("before", () => known(stages.before));
  const after = within("after", () => known(stages.after));
  const factor = positive(coverageFactor, "coverageFactor", "a coverage factor");
  if (Math.abs(finite(correlation, "correlation", "a correlation")) > 1)
    fail("out-of-range", "correlation", "a correlation from -1 to 1", correlation);
  if (band !== undefined) within("band", () => checkBand(band));
  else if (stages.rule !== undefined) fail("not-applicable", "rule", "no rule where there is no band", stages.rule);
  const difference = after.value.minus(before.value);
  const change = band?.period === undefined ? difference : signedDegrees(difference);
  const verdict = (value: Exact, standard: Decimal | undefined): Grade =>
    grade(value, band as Band, { rule, ...(standard && { expandedUncertainty: standard.times(factor) }) });
  return {
    change: toNumber(change, "after.value"),
    ...(before.standard &&
      after.standard &&
      against(change, [before.standard, after.standard], { factor, correlation })),
    ...(band !== undefined && {
      before: within("before", () => verdict(stages.before.value, before.standard)),
      after: within("after", () => verdict(stages.after.value, after.standard)),
    }),
  };
}

interface Read {
  readonly value: Decimal;
  readonly standard?: Decimal;
}

function known(given: KnownValue): Read {
  const { value, standard } = object(given, "", "a value { value, standard }");
  return {
    value: decimal(value, "value", "a reading"),
    ...(standard !== undefined && { standard: notNegative(standard, "standard", "a standard uncertainty") }),
  };
}

/** Squares are compared, which are exact where roots are not. */
function against(
  change: Decimal,
  [u, v]: readonly [Decimal, Decimal],
  { factor, correlation }: { readonly factor: Decimal; readonly correlation: number },
) {
  const shared = u.times(v).times(decimal(correlation, "correlation")).times(2);
  const variance = u.times(u).plus(v.times(v)).minus(shared);
  const square = variance.isNegative() ? variance.times(0) : variance.times(factor).times(factor);
  return { expanded: toNumber(square.sqrt(), "coverageFactor"), significant: isBelow(square, change.times(change)) };
}
