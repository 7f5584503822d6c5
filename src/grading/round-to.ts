import { fail, nameIn, options, whole } from "../base/check.js";
import { countSteps, type Decimal, decimal, type Exact, isBelow, ROUNDING, toNumber } from "../base/exact.js";

/** To which place, and which way a tie goes. */
export type Rounding = (
  | { /** Decimals to keep; negative rounds before the point. */ readonly decimals: number; readonly step?: never }
  | { /** The rounding interval, above 0: 0.5 rounds to halves. */ readonly step: Exact; readonly decimals?: never }
) & {
  /**
   * `half-even` (default; ISO 80000-1 rule A) and `half-away` (rule B) round to the nearest; `floor` and `ceiling` round
   * down and up, which is how a limit is printed inward.
   */
  readonly mode?: "half-even" | "half-away" | "floor" | "ceiling";
};

type Mode = NonNullable<Rounding["mode"]>;

/**
 * Rounds a decimal as it is written: 2.675 to two decimals is 2.68, although the double nearest to 2.675 lies below it.
 *
 * @returns The nearest double to the rounded decimal.
 * @throws A {@link InputError} for values that are not finite, for decimals that are no whole number from −300 to 300
 * and for a step that is not above 0.
 * Accuracy: exact in decimals, rounded to a double once; a step such as 1/60 is taken as that fraction, so that 11/60 lies on
 * its multiple.
 * @source ISO 80000-1:2009 Annex B rules A and B, from memory; ASTM E29 (rounding method)
 *
 * @example
 * import { roundTo } from "tripwright/grading";
 * roundTo(2.675, { decimals: 2 }); // → 2.68
 * roundTo(12.25, { decimals: 1 }); // → 12.2
 * roundTo(1225, { step: 10, mode: "half-away" }); // → 1230
 * roundTo(11 / 60, { step: 1 / 60, mode: "floor" }) * 60; // → 11
 */
export function roundTo(value: Exact, rounding: Rounding): number {
  return toNumber(rounded(value, rounding), "value");
}

function rounded(value: Exact, rounding: Rounding): Decimal {
  const { decimals, step, mode = "half-even" } = options(rounding, ["decimals", "step", "mode"]);
  nameIn(mode, ROUNDING, "mode");
  const read = decimal(value, "value");
  if (step !== undefined) {
    if (decimals !== undefined) fail("conflict", "decimals", "no decimals beside a step", decimals);
    const interval = decimal(step, "step", "a step above 0");
    if (!interval.gt(0)) fail("out-of-range", "step", "a step above 0", step);
    return toMultiple(read, interval, mode);
  }
  if (decimals === undefined) return fail("missing", "decimals", "decimals or a step", decimals);
  const places = whole(decimals, [-300, 300], "decimals", "decimals to keep");
  return read.toNearest(decimal(`1e${-places}`, "decimals"), ROUNDING[mode]);
}

/** To a multiple of the step, counted from zero outwards: 11/60 is eleven sixtieths, although no decimals say so exactly. */
function toMultiple(value: Decimal, step: Decimal, mode: Mode): Decimal {
  const size = value.abs();
  const { whole: inner, even } = countSteps(size, step);
  const steps = even || !isOutwards(mode, { size, step, inner, negative: value.isNegative() }) ? inner : inner.plus(1);
  const multiple = steps.times(step);
  return value.isNegative() ? multiple.neg() : multiple;
}

interface Between {
  readonly size: Decimal;
  readonly step: Decimal;
  /** The multiple next to zero of the two between which the size lies. */
  readonly inner: Decimal;
  readonly negative: boolean;
}

/** Whether what lies between two multiples goes to the one away from zero. */
function isOutwards(mode: Mode, { size, step, inner, negative }: Between): boolean {
  if (mode === "floor" || mode === "ceiling") return negative === (mode === "floor");
  const middle = inner.plus("0.5").times(step);
  if (isBelow(size, middle)) return false;
  return isBelow(middle, size) || mode === "half-away" || !inner.mod(2).isZero();
}
