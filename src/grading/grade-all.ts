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
  if (!(codes instanceof Uint8Array)) fail("wrong-type", "out", "a Uint8Array", codes);
  if (codes.length !== readings.length)
    fail("wrong-length", "out", `an array of ${readings.length} verdicts`, codes.length);
  if (band.period === undefined) compareAll(readings, thresholds(band, ruling), codes);
  // Whole turns leave the doubles of a reading inexact: angles are judged one by one.
  else
    readings.forEach((_, i) => {
      codes[i] = verdicts.indexOf(grade(readingAt(readings, i), band, ruling).verdict);
    });
  return codes;
}

function compareAll(measured: Float64Array, limits: Float64Array, codes: Uint8Array): void {
  if (!markOutside(measured, limits, codes))
    readingAt(
      measured,
      measured.findIndex((reading) => !Number.isFinite(reading)),
    );
  if (limits[0] !== limits[2] || limits[1] !== limits[3]) markUndecided(measured, limits, codes);
}

/** Between which doubles readings are within, and beyond which they are outside: doubles in a row are fastest to read. */
function thresholds({ low, high }: Band, ruling: GradeOptions): Float64Array {
  const { rule, guard } = readRule(ruling);
  const between = (slack: Decimal): readonly number[] => [
    low === undefined ? -Number.MAX_VALUE : -lastWithin(-low, slack),
    high === undefined ? Number.MAX_VALUE : lastWithin(high, slack),
  ];
  return Float64Array.of(...between(guard.times(RULES[rule].within)), ...between(guard.times(RULES[rule].outside)));
}

/**
 * The greatest double that does not lie above a limit pushed out by `slack`: the nearest one, or where that lies above, the
 * one below. Doubles stand for decimals in their own rounding intervals, so that comparing with it decides as the decimals
 * do.
 */
function lastWithin(limit: number, slack: Decimal): number {
  if (slack.isZero()) return limit;
  const pushed = decimal(limit, "limit").plus(slack);
  const nearest = Math.min(Number(pushed.toString()), Number.MAX_VALUE);
  return nearest > -Number.MAX_VALUE && isBelow(pushed, decimal(nearest, "limit")) ? below(nearest) : nearest;
}

/** The next double below: doubles of one sign are in the order of their bits. */
function below(x: number): number {
  if (x === 0) return -Number.MIN_VALUE;
  const double = Float64Array.of(x);
  const bits = new BigInt64Array(double.buffer);
  bits[0] = (bits[0] as bigint) + (x > 0 ? -1n : 1n);
  return double[0] as number;
}

/**
 * Marks what is not within; false where a reading is not finite. Such a one lies within no limits, since those that are
 * absent are the ends of the doubles. Four at a time take half the time of one by one.
 */
function markOutside(measured: Float64Array, limits: Float64Array, codes: Uint8Array): boolean {
  const low = limits[0] as number;
  const high = limits[1] as number;
  const count = codes.length;
  let zero = 0; // NaN after a reading that is not finite
  codes.fill(0);
  let i = 0;
  for (; i + 4 <= count; i += 4) {
    const a = measured[i] as number;
    const b = measured[i + 1] as number;
    const c = measured[i + 2] as number;
    const d = measured[i + 3] as number;
    if (!(a >= low && a <= high)) {
      codes[i] = 1;
      zero += a - a;
    }
    if (!(b >= low && b <= high)) {
      codes[i + 1] = 1;
      zero += b - b;
    }
    if (!(c >= low && c <= high)) {
      codes[i + 2] = 1;
      zero += c - c;
    }
    if (!(d >= low && d <= high)) {
      codes[i + 3] = 1;
      zero += d - d;
    }
  }
  for (; i < count; i++) {
    const reading = measured[i] as number;
    if (!(reading >= low && reading <= high)) {
      codes[i] = 1;
      zero += reading - reading;
    }
  }
  return zero === 0;
}

/** Of the readings that are not within, those that are not outside either. */
function markUndecided(measured: Float64Array, limits: Float64Array, codes: Uint8Array): void {
  const [least, most] = [limits[2] as number, limits[3] as number];
  for (const [i, code] of codes.entries()) {
    const reading = measured[i] as number;
    if (code === 1 && reading >= least && reading <= most) codes[i] = 2;
  }
}

const readingAt = (measured: Float64Array, i: number): number => finite(measured[i], `measured[${i}]`, "a reading");
