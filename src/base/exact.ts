/**
 * Exact decimals: the only door to decimal.js. Calculations run on a clone of our own, with settings of our own, so that
 * they neither touch nor obey the settings of the caller's decimal.js.
 */
import { Decimal as DecimalJs } from "decimal.js";
import { fail, failType } from "./check.js";
import { add, type Double2, divide, multiply } from "./double-double.js";
import { simplestFraction } from "./simplest-fraction.js";

/**
 * A decimal as a person typed it: a number stands for its shortest decimal (and, where nobody types so many digits, for the
 * simplest fraction that reads back as it: 11/60 for 0.18333333333333332), a string is read exactly, and an object
 * with `toFixed` is a decimal of some library.
 */
export type Exact = number | string | DecimalObject;

/** A decimal of some library. */
export interface DecimalObject {
  /** All its digits, without an exponent. */
  toFixed(): string;
}

/** An exact decimal; never part of a public result. */
export type Decimal = DecimalJs;

/** 100 digits: sums, differences and products of what people type are exact; only quotients such as 1/60 are rounded. */
const D = /* @__PURE__ */ DecimalJs.clone({ defaults: true, precision: 100 });

/** Decimals that differ by less than this share of the larger one differ by the rounding of quotients alone. */
const SAME = /* @__PURE__ */ new D("1e-80");

const DECIMAL_TEXT = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d{1,4})?$/i;
const DECIMAL_COMMA = /^[+-]?\d+,\d+$/;
const LONGEST_TEXT = 400;

/**
 * Reads an exact decimal.
 *
 * A double that needs more than 15 digits was computed, not typed: 11 cycles at 60 Hz is 11/60 s, which the double
 * 0.18333333333333332 can only stand for. Such a number is read as the simplest fraction with a denominator up to
 * 10,000 that reads back as the same double, where there is one. The reading never leaves the double's own rounding
 * interval, so that nothing a person typed is changed, and 11 cycles against 10 ± 1 cycles lands on the limit at 50 and
 * 60 Hz. A double of just 15 digits is read so too where the fraction is too simple to be a coincidence: 11/167, which is 1.1
 * cycles at 16.7 Hz.
 *
 * @throws A {@link InputError} for NaN, the infinities, unreadable text and text beyond the range of a double.
 */
export function decimal(value: Exact, path: string, what = "a decimal number"): Decimal {
  if (typeof value === "number")
    return Number.isFinite(value) ? fromDouble(value) : fail("not-finite", path, what, value);
  return fromText(typeof value === "string" ? value.trim() : textOf(value, path, what), path, what);
}

function fromText(text: string, path: string, what: string): Decimal {
  if (DECIMAL_COMMA.test(text)) fail("decimal-comma", path, `${what} with a decimal point`, text);
  if (text.length > LONGEST_TEXT || !DECIMAL_TEXT.test(text)) fail("unreadable", path, what, text);
  const read = new D(text);
  const double = Number(text);
  if (!Number.isFinite(double) || (double === 0 && !read.isZero())) {
    fail("out-of-range", path, `${what} within the range of a double`, text);
  }
  return read;
}

/** A boxed number has a `toFixed` too, but one that rounds to whole numbers; it is refused. */
function textOf(value: DecimalObject, path: string, what: string): string {
  const isObject = typeof value === "object" && value !== null && !(value instanceof Number);
  if (isObject && typeof value.toFixed === "function") {
    const text: unknown = value.toFixed();
    if (typeof text === "string") return text;
  }
  return failType(path, `${what} (a number, text or a decimal object)`, value);
}

/** People type 15 digits at the most, and every decimal of so many stands for a double of its own; a double of more was computed. */
const MOST_TYPED = 15;

export const isTyped = (x: number): boolean => new D(x).precision() <= MOST_TYPED;

function fromDouble(x: number): Decimal {
  const shortest = new D(x);
  const digits = shortest.precision();
  const fraction = digits < MOST_TYPED ? undefined : simplestFraction(x);
  if (fraction === undefined || (digits === MOST_TYPED && mayBeChance(x, fraction))) return shortest;
  return new D(fraction[0]).div(fraction[1]);
}

/**
 * Whether a fraction may lie within the rounding of a double by chance: there are about q²/2 of them between two whole
 * numbers up to a denominator q. Of 15 digits all could have been typed, but 0.0658682634730539 is 11/167 and no accident.
 */
const mayBeChance = (x: number, [, denominator]: readonly [number, number]): boolean =>
  denominator * denominator * Math.abs(x) * Number.EPSILON > 1e-9;

/**
 * The double nearest to an exact decimal; never −0.
 *
 * @throws A {@link InputError} where the decimal lies beyond the range of a double.
 */
export function toNumber(x: Decimal, path: string): number {
  const double = Number(x.toString());
  if (Number.isFinite(double)) return double + 0;
  return fail("out-of-range", path, "a result within the range of a double", x.toPrecision(6));
}

/** What the words of a decimal of decimal.js count in: it holds seven digits in each. */
const WORD: Double2 = [1e7, 0];

/** As two doubles, to 30 digits (its first six words have 36 or more); below 1e-270 to those that are left there. */
export function toPair(x: Decimal): Double2 {
  const sign = x.isNegative() ? -1 : 1;
  const words = x.d.slice(0, 6);
  const read = words.reduce<Double2>((pair, word) => add(multiply(pair, WORD), [sign * word, 0]), [0, 0]);
  let places = Math.floor(x.e / 7) - (words.length - 1); // words from the last one read to the decimal point
  let pair = read;
  for (; places > 0; places--) pair = multiply(pair, WORD);
  for (; places < 0; places++) pair = divide(pair, WORD);
  return pair;
}

/**
 * Whether a < b by more than the rounding of quotients: a sum of sixtieths equals the sixtieths that it is compared with.
 */
export function isBelow(a: Decimal, b: Decimal): boolean {
  return a.lt(b) && b.minus(a).gt(larger(a.abs(), b.abs()).times(SAME));
}

/** The whole number from which a decimal of 0 or more differs by the rounding of quotients alone. */
function wholeBeside(x: Decimal): Decimal | undefined {
  const nearest = x.round();
  return x.minus(nearest).abs().lte(nearest.times(SAME)) ? nearest : undefined;
}

/** How often a step goes into a span, and whether it does so evenly; both are 0 or more. */
export function countSteps(span: Decimal, step: Decimal): { readonly whole: Decimal; readonly even: boolean } {
  const quotient = span.div(step);
  const nearest = wholeBeside(quotient);
  return { whole: nearest ?? quotient.floor(), even: nearest !== undefined };
}

/** The least whole number that a decimal of 0 or more is not beyond: 60 for sixty sixtieths of 60, 61 for what is more. */
export const ceiling = (x: Decimal): Decimal => wholeBeside(x) ?? x.ceil();

/** The same angle above −180° and up to 180°: of two equal ways round the one that leads. */
export function signedDegrees(angle: Decimal): Decimal {
  const turned = angle.mod(360);
  const positive = turned.isNegative() ? turned.plus(360) : turned;
  return isBelow(new D(180), positive) ? positive.minus(360) : positive;
}

/** The smaller of two decimals. */
export const smaller = (a: Decimal, b: Decimal): Decimal => (a.lt(b) ? a : b);
/** The larger of two decimals. */
export const larger = (a: Decimal, b: Decimal): Decimal => (a.gt(b) ? a : b);

/** Rounding modes by name, for whoever rounds decimals: half to even, half away from zero, down and up (signed). */
export const ROUNDING = { "half-even": 6, "half-away": 4, floor: 3, ceiling: 2 } as const;
