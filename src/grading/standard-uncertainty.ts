import { above, atLeast, fail, finite, nameIn, object, options } from "../base/check.js";
import { checkCoverage, coverageFactor } from "./coverage-factor.js";
import { deviation, meanOf } from "./mean.js";
import { readingsOf } from "./readings.js";

/** What is known of a quantity between its limits. */
export type Distribution =
  /** All values alike. */
  | "rectangular"
  /** Rising to the middle: the sum of two equal rectangles. */
  | "triangular"
  /** U-shaped: a quantity that swings between its limits. */
  | "arcsine";

/** One way in which an uncertainty is known; all in the unit of the quantity. */
export type Evaluation =
  /** The standard uncertainty itself. */
  | { readonly standard: number }
  /**
   * From a certificate: expanded, with its factor, or with its coverage (0.99) of a normal distribution; in a budget of
   * Student's t where the contribution has degrees of freedom.
   */
  | { readonly expanded: number; readonly coverageFactor: number; readonly coverage?: never }
  | { readonly expanded: number; readonly coverage: number; readonly coverageFactor?: never }
  /** Limits ±halfWidth, and what lies between them; `{ flat: β }` is a trapezoid whose top is β of its base. */
  | { readonly halfWidth: number; readonly distribution: Distribution | { readonly flat: number } }
  /** The step of a digital indication. */
  | { readonly resolution: number }
  /** Repeated readings, two or more: the standard uncertainty of their mean (type A). */
  | { readonly readings: ArrayLike<number> };

/** Variance over the square of the half-width. */
const VARIANCE: Readonly<Record<Distribution, number>> = { rectangular: 1 / 3, triangular: 1 / 6, arcsine: 1 / 2 };

/** How each way leads to the standard uncertainty. */
const WAYS: { readonly [way: string]: (given: never, degreesOfFreedom?: number) => number } = {
  standard: ({ standard }: { standard: number }) => size(standard, "standard"),
  expanded: fromExpanded,
  halfWidth: fromHalfWidth,
  resolution: ({ resolution }: { resolution: number }) => size(resolution, "resolution") / Math.sqrt(12),
  readings: ({ readings }: { readings: ArrayLike<number> }) => ofMean(readings),
};

/** What belongs to one way alone: a factor beside a standard uncertainty would pass unused. */
const DETAILS: { readonly [detail: string]: string } = {
  coverageFactor: "expanded",
  coverage: "expanded",
  distribution: "halfWidth",
};

/** The fields of all ways. */
export const evaluationKeys = (): readonly string[] => [...Object.keys(WAYS), ...Object.keys(DETAILS)];

/**
 * The standard uncertainty of a quantity, from what is known of it.
 *
 *     expanded:  U/k                        halfWidth a: rectangular a/√3, triangular a/√6, arcsine a/√2,
 *     readings:  s/√n                                    trapezoid a · √((1 + β²)/6)
 *     resolution r: r/√12
 *
 * @throws A {@link InputError} for a negative value, none or several ways at once, a factor, coverage or distribution beside a way
 * that has none, unknown keys, fewer than two readings.
 * Accuracy: within 4 units in the last place; through a coverage 1e-12.
 * @source JCGM 100:2008 4.2 (readings), 4.3 (all others), F.2.2.1 (resolution)
 *
 * @example
 * import { standardUncertainty } from "tripwright/grading";
 * standardUncertainty({ expanded: 0.04, coverageFactor: 2 }); // → 0.02
 * standardUncertainty({ halfWidth: 0.03, distribution: "rectangular" }).toFixed(5); // → "0.01732"
 * standardUncertainty({ readings: [0.512, 0.508, 0.51] }).toFixed(6); // → "0.001155"
 */
export const standardUncertainty = (evaluation: Evaluation): number => evaluated(evaluation) + 0;

/** The same where the degrees of freedom are known beside it. */
export function evaluated(evaluation: Evaluation, degreesOfFreedom?: number): number {
  object(evaluation, "", `an uncertainty with ${Object.keys(WAYS).join(", ")}`);
  const given = options(evaluation, [...Object.keys(WAYS), ...Object.keys(DETAILS)]);
  const [way, other] = Object.keys(WAYS).filter((name) => given[name as keyof Evaluation] !== undefined);
  if (way === undefined) return fail("missing", "", `one of ${Object.keys(WAYS).join(", ")}`, given);
  if (other !== undefined) fail("conflict", other, `nothing beside ${way}`, given[other as keyof Evaluation]);
  for (const [detail, owner] of Object.entries(DETAILS)) {
    const value: unknown = given[detail as keyof Evaluation];
    if (value !== undefined && owner !== way) fail("not-applicable", detail, `none beside ${way}`, value);
  }
  return (WAYS[way] as (given: Evaluation, degreesOfFreedom?: number) => number)(given, degreesOfFreedom);
}

const size = (x: number, path: string): number => atLeast(x, 0, path, "an uncertainty");

type Expanded = Extract<Evaluation, { expanded: number }>;

function fromExpanded({ expanded, coverageFactor: factor, coverage }: Expanded, degreesOfFreedom?: number): number {
  size(expanded, "expanded");
  if ((factor === undefined) === (coverage === undefined)) {
    const code = factor === undefined ? "missing" : "conflict";
    fail(code, "coverageFactor", "a coverageFactor or a coverage", factor);
  }
  if (factor !== undefined) return expanded / above(factor, 0, "coverageFactor", "a coverage factor");
  checkCoverage(coverage as number, "coverage");
  return expanded / coverageFactor({ coverage: coverage as number, ...(degreesOfFreedom && { degreesOfFreedom }) });
}

type Limited = Extract<Evaluation, { halfWidth: number }>;

function fromHalfWidth({ halfWidth, distribution }: Limited): number {
  size(halfWidth, "halfWidth");
  if (typeof distribution !== "object")
    return halfWidth * Math.sqrt(VARIANCE[nameIn(distribution, VARIANCE, "distribution")]);
  const { flat } = object(distribution, "distribution", "a distribution such as rectangular, or { flat }");
  if (atLeast(flat, 0, "distribution.flat", "a share of the base") > 1)
    fail("out-of-range", "distribution.flat", "a share of the base up to 1", flat);
  return halfWidth * Math.sqrt((1 + flat * flat) / 6);
}

function ofMean(given: ArrayLike<number>): number {
  const readings = readingsOf(given, "readings", 2);
  const scatter = finite(deviation(readings, meanOf(readings)), "readings", "readings whose scatter fits a double");
  return scatter / Math.sqrt(readings.length);
}
