import type { Band } from "../base/band.js";
import { fail, finite, options } from "../base/check.js";
import { doubles } from "../base/doubles.js";
import { type Decimal, decimal, isBelow } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { checkBand } from "./band.js";
import { type Grade, type GradeOptions, grade, RULES, readRule } from "./grade.js";
import { GUARDING } from "./guard.js";

/** The verdicts by the numbers that {@link gradeAll} gives. */
export const verdicts: readonly Grade["verdict"][] = /* @__PURE__ */ Object.freeze(["within", "outside", "undecided"]);

/** What many readings are judged against, and how. */
export interface GradeAllOptions extends GradeOptions {
  readonly band: Band;
}

/**
 * The verdicts on many readings against one band: the verdict of {@link grade} on each, at the speed of comparing doubles.
 *
 * @param measured - Readings in the unit of the band.
 * @param out - Filled and returned where given; exactly as long as the readings.
 * @returns For each reading its place in {@link verdicts}: 0 within, 1 outside, 2 undecided.
 * @throws A {@link InputError} with the place of a reading that is not finite (`measured[7]`), for an `out` of another
 * length, and as {@link grade} does.
 * Accuracy: that of {@link grade}; readings on a limit are on it.
 * @source as {@link grade}
 *
 * @example
 * import { band, gradeAll } from "tripwright/grading";
 * Array.from(gradeAll([0.98, 1.02, 1.03], { band: band(1, { percent: 2 }) })); // → [0, 0, 1]
 */
export function gradeAll(measured: ArrayLike<number>, given: GradeAllOptions, out?: Uint8Array): Uint8Array {
  const { band, ...ruling } = options(given, ["band", "rule", ...GUARDING]);
  within("band", () => checkBand(band));
  const readings = doubles(measured, "measured", "a reading");
  const codes = out ?? new Uint8Array(readings.length);
  if (codes.length !== readings.length)
    fail("wrong-length", "out", `an array of ${readings.length} verdicts`, codes.length);
  if (band.period === undefined) compareAll(readings, thresholds(band, ruling), codes);
  // Whole turns leave the doubles of a reading inexact: angles are judged one by one.
  else
    codes.forEach((_, i) => {
      codes[i] = verdicts.indexOf(grade(readingAt(readings, i), band, ruling).verdict);
    });
  return codes;
}

/** Between which doubles readings are within, and beyond which they are outside. */
interface Thresholds {
  readonly inner: readonly [low: number, high: number];
  readonly outer: readonly [low: number, high: number];
}

function thresholds({ low, high }: Band, ruling: GradeOptions): Thresholds {
  const { rule, guard } = readRule(ruling);
  const between = (slack: Decimal): readonly [number, number] => [
    low === undefined ? Number.NEGATIVE_INFINITY : -lastWithin(decimal(low, "low").minus(slack).neg()),
    high === undefined ? Number.POSITIVE_INFINITY : lastWithin(decimal(high, "high").plus(slack)),
  ];
  return { inner: between(guard.times(RULES[rule].within)), outer: between(guard.times(RULES[rule].outside)) };
}

/**
 * The greatest double that does not lie above an exact limit: the nearest one, or where that lies above, the one below.
 * Doubles stand for decimals in their own rounding intervals, so that comparing with it decides as the decimals do.
 */
function lastWithin(limit: Decimal): number {
  const nearest = Number(limit.toString());
  return Number.isFinite(nearest) && isBelow(limit, decimal(nearest, "limit")) ? below(nearest) : nearest;
}

/** The next double below: doubles of one sign are in the order of their bits. */
function below(x: number): number {
  if (x === 0) return -Number.MIN_VALUE;
  const double = Float64Array.of(x);
  const bits = new BigInt64Array(double.buffer);
  bits[0] = (bits[0] as bigint) + (x > 0 ? -1n : 1n);
  return double[0] as number;
}

function compareAll(measured: Float64Array, { inner, outer }: Thresholds, codes: Uint8Array): void {
  const [low, high] = inner;
  const [least, most] = outer;
  let sum = 0;
  for (let i = 0; i < codes.length; i++) {
    const reading = measured[i] as number;
    sum += reading * 0; // NaN from the first reading on that is not finite
    codes[i] = reading >= low && reading <= high ? 0 : reading < least || reading > most ? 1 : 2;
  }
  if (Number.isNaN(sum)) for (let i = 0; i < codes.length; i++) readingAt(measured, i);
}

const readingAt = (measured: Float64Array, i: number): number =>
  finite(measured[i] as number, `measured[${i}]`, "a reading");
