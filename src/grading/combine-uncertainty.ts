import { above, fail, finite, list, options, text } from "../base/check.js";
import { readEach } from "../base/read-each.js";
import { canCorrelate, type Pair } from "./can-correlate.js";
import { coverageFactor } from "./coverage-factor.js";
import { unitOf } from "./mean.js";
import { type Evaluation, evaluated, evaluationKeys } from "./standard-uncertainty.js";

/** One contribution to an uncertainty. */
export type Contribution = Evaluation & {
  readonly name: string;
  /** ∂result/∂this quantity; default 1. */
  readonly sensitivity?: number;
  /** How well the uncertainty itself is known, above 0; readings have one less than their number, others infinitely many. */
  readonly degreesOfFreedom?: number;
};

/** How two contributions go together. */
export interface Correlation {
  readonly between: readonly [string, string];
  /** From −1 to 1. */
  readonly coefficient: number;
}

/** All that an uncertainty is made of. */
export interface UncertaintyBudget {
  readonly contributions: readonly Contribution[];
  /** Pairs that are not named do not correlate. */
  readonly correlations?: readonly Correlation[];
  /** The probability to be covered; default 0.95. */
  readonly coverage?: number;
  /** The coverage factor itself, instead of the one that the coverage asks for: 2 is usual. */
  readonly coverageFactor?: number;
}

/** A combined uncertainty, in the unit of the result. */
export interface CombinedUncertainty {
  /** Combined standard uncertainty. */
  readonly standard: number;
  /** Effective degrees of freedom; absent where there are infinitely many, or where contributions correlate. */
  readonly degreesOfFreedom?: number;
  readonly coverageFactor: number;
  /** coverageFactor · standard */
  readonly expanded: number;
  /** Each contribution with |sensitivity| · its standard uncertainty, and its share of the variance. */
  readonly contributions: readonly { readonly name: string; readonly standard: number; readonly share?: number }[];
}

/**
 * Combines the contributions to an uncertainty.
 *
 *     u² = Σ (cᵢ·uᵢ)² + 2 · Σ cᵢ·cⱼ·uᵢ·uⱼ·rᵢⱼ,   ν = u⁴ / Σ ((cᵢ·uᵢ)⁴/νᵢ),   U = k·u
 *
 * k is that of Student's t distribution at the effective degrees of freedom, truncated to a whole number as the GUM does.
 * Where contributions correlate they have no effective degrees of freedom; if one of them has finitely many, a
 * `coverageFactor` must be given.
 *
 * @throws A {@link InputError} with the place of a contribution that is not good, for names that occur twice, correlations
 * of unknown names or beyond ±1, a budget whose correlations cannot be at the same time, fewer effective degrees of freedom
 * than 1, and unknown keys.
 * Accuracy: within 4 units in the last place for every contribution; the factor 1e-12.
 * @source JCGM 100:2008 5.1.2, 5.2.2, 6.2.1, G.4.1 (Welch–Satterthwaite), G.6.4
 *
 * @example
 * import { combineUncertainty } from "tripwright/grading";
 * const { standard, degreesOfFreedom, expanded } = combineUncertainty({
 *   contributions: [
 *     { name: "meter", halfWidth: 0.03, distribution: "rectangular" },
 *     { name: "resolution", resolution: 0.01 },
 *     { name: "repeatability", readings: [4.01, 4.03, 3.98, 4.0, 4.02] },
 *   ],
 * });
 * standard.toFixed(4); // → "0.0196"
 * degreesOfFreedom?.toFixed(0); // → "107"
 * expanded.toFixed(3); // → "0.039"
 */
export function combineUncertainty(budget: UncertaintyBudget): CombinedUncertainty {
  const given = options(budget, ["contributions", "correlations", "coverage", "coverageFactor"]);
  const parts = readContributions(given.contributions);
  const correlations = readCorrelations(given.correlations, parts);
  const unit = unitOf(parts.map(({ signed }) => signed));
  const sizes = parts.map(({ signed }) => signed / unit);
  const variance = sizes.reduce((sum, size) => sum + size * size, 0) + crossTerms(sizes, correlations);
  const standard = finite(
    unit * Math.sqrt(checkVariance(variance, sizes)),
    "contributions",
    "an uncertainty that fits a double",
  );
  const degreesOfFreedom = correlations.length > 0 ? undefined : effective(standard, parts);
  const factor = factorOf(given, degreesOfFreedom, { parts, correlated: correlations.length > 0 });
  return {
    standard,
    ...(degreesOfFreedom !== undefined && { degreesOfFreedom }),
    coverageFactor: factor,
    expanded: finite(factor * standard, "contributions", "an expanded uncertainty that fits a double"),
    contributions: parts.map(({ name, signed }) => ({
      name,
      standard: Math.abs(signed),
      ...(variance > 0 && { share: (signed / unit) ** 2 / variance }),
    })),
  };
}

interface Part {
  readonly name: string;
  /** Sensitivity · standard uncertainty. */
  readonly signed: number;
  readonly degreesOfFreedom?: number;
}

function readContributions(given: readonly Contribution[]): readonly Part[] {
  const parts = readEach(given, "contributions", "a list of one contribution or more", readContribution, 1);
  const twice = parts.findIndex(({ name }, i) => parts.findIndex((part) => part.name === name) < i);
  if (twice >= 0) fail("duplicate", `contributions[${twice}].name`, "a name of its own", parts[twice]?.name);
  return parts;
}

function readContribution(contribution: Contribution): Part {
  const {
    name,
    sensitivity = 1,
    degreesOfFreedom,
    ...evaluation
  } = options(contribution, ["name", "sensitivity", "degreesOfFreedom", ...evaluationKeys()]);
  text(name, "name", "a name");
  finite(sensitivity, "sensitivity", "a sensitivity");
  if (degreesOfFreedom !== undefined) above(degreesOfFreedom, 0, "degreesOfFreedom", "degrees of freedom");
  const signed = sensitivity * evaluated(evaluation as Evaluation, degreesOfFreedom);
  const own = "readings" in evaluation ? evaluation.readings?.length : undefined;
  const known = degreesOfFreedom ?? (own === undefined ? undefined : own - 1);
  finite(signed, "sensitivity", "a contribution that fits a double");
  return { name, signed, ...(known !== undefined && { degreesOfFreedom: known }) };
}

function readCorrelations(given: readonly Correlation[] = [], parts: readonly Part[]): readonly Pair[] {
  const pairs = readEach(given, "correlations", "a list of { between, coefficient }", (correlation): Pair => {
    const { between, coefficient } = options(correlation, ["between", "coefficient"]);
    if (list(between, "between", "two names").length !== 2) fail("wrong-length", "between", "two names", between);
    const [a, b] = [0, 1].map((side) => placeOf(between[side], `between[${side}]`, parts)) as [number, number];
    if (a === b) fail("duplicate", "between[1]", "another name", between[1]);
    if (Math.abs(finite(coefficient, "coefficient", "a correlation")) > 1)
      fail("out-of-range", "coefficient", "a correlation from -1 to 1", coefficient);
    return { places: [a, b], coefficient };
  });
  const key = ({ places: [a, b] }: Pair): string => `${Math.min(a, b)} ${Math.max(a, b)}`;
  const twice = pairs.findIndex((pair, i) => pairs.findIndex((other) => key(other) === key(pair)) < i);
  if (twice >= 0) fail("duplicate", `correlations[${twice}].between`, "a pair not named yet", given[twice]?.between);
  if (!canCorrelate(pairs)) fail("out-of-range", "correlations", CAN_BE, given);
  return pairs.filter(({ coefficient }) => coefficient !== 0);
}

const CAN_BE = "correlations that can be at the same time";

function placeOf(name: unknown, path: string, parts: readonly Part[]): number {
  const place = parts.findIndex((part) => part.name === name);
  if (place >= 0) return place;
  return fail("unknown-name", path, `one of ${parts.map((part) => part.name).join(", ")}`, name);
}

const crossTerms = (sizes: readonly number[], pairs: readonly Pair[]): number =>
  pairs.reduce((sum, { places: [a, b], coefficient }) => {
    return sum + 2 * coefficient * (sizes[a] as number) * (sizes[b] as number);
  }, 0);

/** Contributions that cancel may leave a rounding below 0; anything more cannot be. */
function checkVariance(variance: number, sizes: readonly number[]): number {
  const most = sizes.reduce((sum, size) => sum + Math.abs(size), 0) ** 2;
  if (!(variance < -1e-14 * most)) return Math.max(0, variance);
  return fail("out-of-range", "correlations", CAN_BE, variance);
}

function effective(standard: number, parts: readonly Part[]): number | undefined {
  if (standard === 0) return undefined;
  const sum = parts.reduce(
    (all, { signed, degreesOfFreedom }) => all + (degreesOfFreedom ? (signed / standard) ** 4 / degreesOfFreedom : 0),
    0,
  );
  return sum > 0 ? 1 / sum : undefined;
}

/** GUM G.4.1: truncated, but for the rounding of a quotient that is whole. */
const truncated = (degreesOfFreedom: number): number => Math.floor(degreesOfFreedom * (1 + 1e-12));

function factorOf(
  { coverage, coverageFactor: factor }: UncertaintyBudget,
  degreesOfFreedom: number | undefined,
  { parts, correlated }: { readonly parts: readonly Part[]; readonly correlated: boolean },
): number {
  if (factor !== undefined) {
    if (coverage !== undefined) fail("conflict", "coverage", "nothing beside coverageFactor", coverage);
    return above(factor, 0, "coverageFactor", "a coverage factor");
  }
  if (correlated && parts.some((part) => part.degreesOfFreedom !== undefined)) {
    const expected = "a coverage factor: contributions that correlate have no effective degrees of freedom";
    fail("missing", "coverageFactor", expected, factor);
  }
  const whole = degreesOfFreedom === undefined ? undefined : truncated(degreesOfFreedom);
  if (whole === 0) fail("out-of-range", "contributions", "effective degrees of freedom of 1 or more", degreesOfFreedom);
  return coverageFactor({ ...(coverage !== undefined && { coverage }), ...(whole && { degreesOfFreedom: whole }) });
}
