import { finite, options } from "../base/check.js";
import { type Decimal, decimal, isBelow, toNumber } from "../base/exact.js";
import type { Percent } from "../base/units.js";
import { coverageFactor } from "./coverage-factor.js";
import { deviation, meanOf, rootOfSquares, unitOf } from "./mean.js";
import { readingsOf } from "./readings.js";

/** What repeated readings say. Fields that need more readings than there are, or a nominal value, are absent. */
export interface Repeatability {
  readonly count: number;
  readonly mean: number;
  readonly minimum: number;
  readonly maximum: number;
  /** maximum − minimum */
  readonly spread: number;
  readonly median: number;
  /** Of the sample, n − 1; from two readings on. */
  readonly standardDeviation?: number;
  /** Standard uncertainty of the mean, s/√n; from two readings on. */
  readonly standardUncertainty?: number;
  /** Half the width of the interval that holds the mean with 95 %: t · s/√n; from two readings on. */
  readonly expandedUncertainty?: number;
  /** How much a reading changes from one to the next; from three readings on. */
  readonly trend?: Trend;
  /** The errors against the nominal value. */
  readonly errors?: RepeatedErrors;
}

/** The straight line through readings in their order. */
export interface Trend {
  /** Change a reading, by least squares. */
  readonly slope: number;
  readonly standardUncertainty: number;
  /** Whether the slope lies beyond its 95 % interval about none: inputs that heat, a spring that tires. */
  readonly significant: boolean;
}

/** Errors of repeated readings: reading − nominal, and the same in percent of the nominal value where that is not 0. */
export interface RepeatedErrors {
  readonly mean: number;
  /** The one of greatest size, with its sign; of two alike the earlier. */
  readonly worst: number;
  readonly meanPercent?: Percent;
  readonly worstPercent?: Percent;
}

/**
 * Mean, spread and trend of repeated readings.
 *
 *     s = √(Σ (x − x̄)²/(n − 1)),  u = s/√n,  U = t₉₅(n − 1) · u
 *
 * @param readings - One or more, in the order in which they were taken; a list, or a typed array.
 * @param about - `nominal`: the value that the readings should have.
 * @throws A {@link InputError} for an empty list and with the place of a reading that is not finite.
 * Accuracy: mean and deviation in two passes, right as far as the readings have digits: identical readings have exactly
 * no deviation. Errors are the doubles nearest to the exact decimals; that of the mean is as good as the mean.
 * @source JCGM 100:2008 4.2; type tests of the IEC 60255 series take five or ten readings (from memory)
 *
 * @example
 * import { repeatability } from "tripwright/grading";
 * const { mean, standardDeviation, errors, trend } = repeatability([0.512, 0.508, 0.51, 0.509, 0.511], { nominal: 0.5 });
 * mean.toFixed(4); // → "0.5100"
 * standardDeviation?.toFixed(5); // → "0.00158"
 * errors?.worstPercent?.toFixed(2); // → "2.40"
 * trend?.significant; // → false
 */
export function repeatability(readings: ArrayLike<number>, about: { readonly nominal?: number } = {}): Repeatability {
  const { nominal } = options(about, ["nominal"]);
  const taken = readingsOf(readings, "readings", 1);
  if (nominal !== undefined) finite(nominal, "nominal", "a nominal value");
  const sorted = [...taken].sort((a, b) => a - b);
  const [minimum, maximum] = [sorted[0] as number, sorted.at(-1) as number];
  const mean = meanOf(taken);
  return {
    count: taken.length,
    mean,
    minimum,
    maximum,
    spread: maximum - minimum,
    median: middleOf(sorted),
    ...(taken.length > 1 && scatterOf(taken, mean)),
    ...(taken.length > 2 && { trend: trendOf(taken, mean) }),
    ...(nominal !== undefined && { errors: errorsOf(taken, mean, nominal) }),
  };
}

function middleOf(sorted: readonly number[]): number {
  const [low, high] = [sorted[(sorted.length - 1) >> 1] as number, sorted[sorted.length >> 1] as number];
  return low + (high - low) / 2;
}

function scatterOf(readings: readonly number[], mean: number) {
  const standardDeviation = finite(deviation(readings, mean), "readings", "readings whose scatter fits a double");
  const standardUncertainty = standardDeviation / Math.sqrt(readings.length);
  const expandedUncertainty = finite(
    coverageFactor({ degreesOfFreedom: readings.length - 1 }) * standardUncertainty,
    "readings",
    "readings whose expanded uncertainty fits a double",
  );
  return { standardDeviation, standardUncertainty, expandedUncertainty };
}

/** Places are counted from their own middle, so that slope and level do not correlate; readings in units of their scatter. */
function trendOf(readings: readonly number[], mean: number): Trend {
  const count = readings.length;
  const place = (i: number): number => i - (count - 1) / 2;
  const square = (count * (count - 1) * (count + 1)) / 12;
  const unit = unitOf(readings.map((reading) => reading - mean));
  const apart = readings.map((reading) => (reading - mean) / unit);
  const rise = apart.reduce((sum, x, i) => sum + place(i) * x, 0) / square;
  const slope = unit * rise;
  const rest = apart.map((x, i) => x - rise * place(i));
  const standardUncertainty = (unit * rootOfSquares(rest)) / Math.sqrt((count - 2) * square);
  const beyond = coverageFactor({ degreesOfFreedom: count - 2 }) * standardUncertainty;
  // A slope that the rounding of the readings alone may make is none.
  const largest = readings.reduce((most, reading) => Math.max(most, Math.abs(reading)), 0);
  const rounding = (2 * Number.EPSILON * largest) / Math.sqrt(square);
  return { slope, standardUncertainty, significant: Math.abs(slope) > Math.max(beyond, rounding) };
}

/** In exact decimals, as verdicts are: 0.55 about 0.5 is 10 % off. */
function errorsOf(readings: readonly number[], mean: number, nominal: number): RepeatedErrors {
  const center = decimal(nominal, "nominal");
  const errorOf = (reading: number): Decimal => decimal(reading, "readings").minus(center);
  const largest = readings.reduce((most, reading) => Math.max(most, Math.abs(reading - nominal)), 0);
  // Doubles tell which may be the worst, but not which of two alike.
  const worst = readings
    .filter((reading) => Math.abs(reading - nominal) >= largest * (1 - 1e-9))
    .map(errorOf)
    .reduce((a, b) => (isBelow(a.abs(), b.abs()) ? b : a));
  const percent = (error: Decimal): Percent =>
    finite(
      Number(error.div(center.abs()).times(100).toString()) + 0,
      "nominal",
      "a nominal value of which the errors are a percentage",
    );
  const ofMean = errorOf(mean);
  return {
    mean: toNumber(ofMean, "nominal"),
    worst: toNumber(worst, "nominal"),
    ...(nominal !== 0 && { meanPercent: percent(ofMean), worstPercent: percent(worst) }),
  };
}
