import type { Band } from "../base/band.js";
import { fail, nameIn, options } from "../base/check.js";
import { type Decimal, decimal, type Exact, isBelow, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import type { Percent } from "../base/units.js";
import { checkBand } from "./band.js";
import { counted } from "./counted.js";
import { GUARDING, type Guarding, readGuard } from "./guard.js";

/**
 * How measurement uncertainty enters the verdict.
 *
 * - `simple`: it does not; a reading on the limit is within.
 * - `guarded`: the limits are drawn in by the guard; what lies on or inside them is within, the rest outside.
 * - `three-way`: within on or inside the drawn-in limits, outside beyond the limits pushed out, undecided between.
 */
export type DecisionRule = "simple" | "guarded" | "three-way";

/** What a verdict takes into account beside the reading. */
export interface GradeOptions extends Guarding {
  /** Default `simple`. */
  readonly rule?: DecisionRule;
}

/** A verdict on one reading. */
export interface Grade {
  readonly verdict: "within" | "outside" | "undecided";
  /** Measured − nominal, in the unit of the reading; an angle the way round that the verdict counts. */
  readonly error: number;
  /**
   * The error in percent of the nominal value; absent where that is zero, or too small for the percentage to fit a
   * double, and of angles, which count from anywhere.
   */
  readonly errorPercent?: Percent;
  /** Which share of the tolerance on its side the error uses: 1 is on the limit. Absent where there is no limit there, or no width. */
  readonly used?: number;
  /** By how much the reading lies beyond the limit itself, whatever the rule; absent where it does not. */
  readonly outsideBy?: number;
}

/** By how much the limits are pushed out, in units of the guard, for a reading not to be within, and to be outside. */
export const RULES: Readonly<Record<DecisionRule, { readonly within: number; readonly outside: number }>> = {
  simple: { within: 0, outside: 0 },
  guarded: { within: -1, outside: -1 },
  "three-way": { within: -1, outside: 1 },
};

/**
 * Judges one reading against a band.
 *
 * A reading on a limit is within under the simple rule. A limit that does not exist cannot be exceeded.
 *
 * An angle counts the short way round from the middle of the limits, which is the nominal angle where both reach equally far;
 * of two equal ways round the one that leads. So 190° is within 0° to 200°, with an error of 190°, although the short way
 * round from 0° is −170°. With one limit alone it counts the short way round from the nominal angle.
 *
 * @param measured - In the unit of the band; text is read exactly.
 * @param accepted - From {@link band}, or written by hand.
 * @param options - The rule, and what the guard is made of; see {@link Guarding}.
 * @throws A {@link InputError} for values that are not finite, limits out of order, a rule that needs an uncertainty
 * and has none, and unknown keys.
 * Accuracy: the comparison is exact where reading and limits have up to 15 digits, or are fractions such as sixtieths;
 * error and shares are the nearest doubles.
 * @source ILAC-G8:09/2019 (simple acceptance, guard band w = U, non-binary statements), ISO 14253-1:2017 (guard band
 * 1.65 u), both from memory
 *
 * @example
 * import { band, grade } from "tripwright/grading";
 * grade(1.02, band(1, { percent: 2 })).verdict; // → "within"
 * grade(11 / 60, band(10 / 60, { absolute: 1 / 60 })).used; // → 1
 * grade(4.25, band(4, { percent: 5 })).outsideBy; // → 0.05
 * grade(-179, band(180, { absolute: 2, period: 360 })).error; // → 1
 * grade(4.19, band(4, { percent: 5 }), { rule: "three-way", expandedUncertainty: 0.02 }).verdict; // → "undecided"
 */
export function grade(measured: Exact, accepted: Band, options: GradeOptions = {}): Grade {
  const typed = decimal(measured, "measured", "a measured value");
  within("accepted", () => checkBand(accepted));
  const { rule, guard } = readRule(options);
  const reading = counted(typed, accepted);
  const { within: inner, outside: outer } = RULES[rule];
  const isWithin = !isBeyond(reading, accepted, guard.times(inner));
  const verdict = isWithin ? "within" : isBeyond(reading, accepted, guard.times(outer)) ? "outside" : "undecided";
  return { verdict, ...errorOf(reading, accepted) };
}

/** Reads the rule and the guard that it needs. */
export function readRule(given: GradeOptions): { readonly rule: DecisionRule; readonly guard: Decimal } {
  const { rule = "simple", ...guarding } = options(given, ["rule", ...GUARDING]);
  nameIn(rule, RULES, "rule");
  if (rule === "simple" && guarding.guard !== undefined)
    fail("not-applicable", "guard", "a rule that guards: guarded or three-way", guarding.guard);
  return { rule, guard: readGuard(guarding, rule) };
}

/** Whether the reading lies beyond a limit that is pushed outwards by `slack` (drawn in where it is negative). */
function isBeyond(measured: Decimal, { low, high }: Band, slack: Decimal): boolean {
  if (low !== undefined && isBelow(measured, decimal(low, "low").minus(slack))) return true;
  return high !== undefined && isBelow(decimal(high, "high").plus(slack), measured);
}

function errorOf(measured: Decimal, band: Band): Omit<Grade, "verdict"> {
  const center = decimal(band.nominal, "nominal");
  const error = measured.minus(center);
  const limit = error.isNegative() ? band.low : band.high;
  const room = limit === undefined ? undefined : decimal(limit, "limit").minus(center);
  // Of a nominal value of zero it is not finite.
  const percent = band.period === undefined ? Number(error.div(center.abs()).times(100).toString()) : Number.NaN;
  const over = beyondBy(measured, band);
  return {
    error: toNumber(error, "measured"),
    ...(Number.isFinite(percent) && { errorPercent: percent + 0 }),
    // A nominal value beyond its own limit leaves no width to use.
    ...(room !== undefined &&
      !room.isZero() &&
      room.isNegative() === error.isNegative() && { used: toNumber(error.div(room), "measured") }),
    ...(over !== undefined && { outsideBy: toNumber(over, "measured") }),
  };
}

function beyondBy(measured: Decimal, { low, high }: Band): Decimal | undefined {
  const [lower, upper] = [low, high].map((limit) => (limit === undefined ? undefined : decimal(limit, "limit")));
  if (lower !== undefined && isBelow(measured, lower)) return lower.minus(measured);
  return upper !== undefined && isBelow(upper, measured) ? measured.minus(upper) : undefined;
}
