import { above, fail, options, whole } from "../base/check.js";
import { type Decimal, decimal, type Exact, ROUNDING } from "../base/exact.js";
import { written } from "../base/written.js";

/** How a value is written with its uncertainty. */
export interface MeasuredFormat {
  /** Expanded uncertainty, in the unit of the value, above 0. */
  readonly expandedUncertainty: Exact;
  /** k, above 0; written behind where it is given, at three digits at most. */
  readonly coverageFactor?: number;
  /** Such as `A`; written behind both. A ratio has none, and neither "1" nor "" is written. */
  readonly unit?: string;
  /** Digits of the uncertainty, 1 to 6; default 2. */
  readonly digits?: number;
}

/**
 * A measured value as it is written down: the uncertainty at two digits, the value to the same place.
 *
 * Both are rounded to the nearest, half to even, and so is the coverage factor. The degree sign stands right behind its number.
 *
 * @throws A {@link InputError} for values that are not finite, an uncertainty that is not above 0, and unknown keys.
 * Accuracy: exact in decimals.
 * @source JCGM 100:2008 7.2.2, 7.2.6; ISO 80000-1:2009 7.1.4 (spaces before units), from memory
 *
 * @example
 * import { formatMeasured } from "tripwright/grading";
 * formatMeasured(4.01234, { expandedUncertainty: 0.02345, coverageFactor: 2, unit: "A" }); // → "4.012 A ± 0.023 A (k = 2)"
 * formatMeasured(1234.5, { expandedUncertainty: 120, unit: "V" }); // → "1230 V ± 120 V"
 * formatMeasured(-30.12, { expandedUncertainty: 0.2, coverageFactor: 1.98349, unit: "°" }); // → "-30.12° ± 0.20° (k = 1.98)"
 */
export function formatMeasured(value: Exact, format: MeasuredFormat): string {
  const {
    expandedUncertainty,
    coverageFactor,
    unit,
    digits = 2,
  } = options(format, ["expandedUncertainty", "coverageFactor", "unit", "digits"]);
  const measured = decimal(value, "value", "a measured value");
  const uncertainty = decimal(expandedUncertainty, "expandedUncertainty", "an expanded uncertainty");
  if (!uncertainty.gt(0))
    fail("out-of-range", "expandedUncertainty", "an expanded uncertainty above 0", expandedUncertainty);
  if (coverageFactor !== undefined) above(coverageFactor, 0, "coverageFactor", "a coverage factor");
  if (unit !== undefined && typeof unit !== "string") fail("wrong-type", "unit", "a unit such as A", unit);
  const shown = uncertainty.toSignificantDigits(whole(digits, [1, 6], "digits", "digits"), ROUNDING["half-even"]);
  // 0.0996 at two digits is 0.10: its place is that of the rounded uncertainty.
  const place = shown.e - digits + 1;
  // An empty unit is that of a ratio.
  const quantity = (x: Decimal): string => written(toPlace(x, place), unit || "1");
  const factor = coverageFactor === undefined ? "" : ` (k = ${threeDigits(coverageFactor)})`;
  return `${quantity(measured)} ± ${quantity(shown)}${factor}`;
}

const threeDigits = (factor: number): number =>
  decimal(factor, "coverageFactor").toSignificantDigits(3, ROUNDING["half-even"]).toNumber();

/** To a decimal place: 3 is thousands, −3 thousandths. Zeros before the point are written out. */
function toPlace(value: Decimal, place: number): string {
  const rounded = value.toNearest(decimal(`1e${place}`, "value"), ROUNDING["half-even"]);
  return (rounded.isZero() ? rounded.abs() : rounded).toFixed(Math.max(0, -place));
}
