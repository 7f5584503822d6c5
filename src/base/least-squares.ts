import type { Answer } from "./answer.js";
import { backSubstitute, covarianceOf, dot, triangularize } from "./qr.js";

/** A sum of squares to be made as small as it gets. */
export interface LeastSquaresProblem {
  /** Where the search begins. */
  readonly start: ArrayLike<number>;
  /** How many residuals there are. */
  readonly count: number;
  /**
   * Writes the residuals and their derivatives, jacobian[j · count + i] = ∂residual i/∂parameter j. Where the parameters
   * make no sense (they may be NaN after a hopeless step) it writes NaN, and the search turns back. Many residuals may
   * come as few: only [J r]ᵀ[J r] matters, so that its triangular factor, a row more than there are parameters, does.
   */
  readonly evaluate: (parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array) => void;
  /** Steps that may be tried; default 200. */
  readonly iterationLimit?: number;
  /** The first damping, relative to the squares of the columns; default 1e-3. More keeps a search near a far start. */
  readonly damping?: number;
}

/** The smallest sum of squares that was found, and where. */
export interface LeastSquares {
  readonly parameters: readonly number[];
  readonly sumOfSquares: number;
  /** (JᵀJ)⁻¹, unscaled: times sumOfSquares/(count − parameters) where the residuals do not have variance 1. */
  readonly covariance: readonly (readonly number[])[];
  /** Steps tried. */
  readonly iterations: number;
}

/**
 * Why there is no answer: the start makes no sense; the residuals do not determine every parameter; no step makes the
 * sum smaller, though the derivatives promise it; too many steps.
 */
export type LeastSquaresFailure = "not-finite" | "singular" | "stalled" | "iteration-limit";

/** Close enough: what is left to gain, relative to the residuals. An error of 1e-10 standard uncertainties, or a few. */
const CLOSE = 1e-10;
/** What the rounding of the parameters alone does to the residuals, relative to the terms that they are made of. */
const ROUNDING = 3.552713678800501e-15; // 16 · 2^-52; literals, so that bundlers can drop what is not used
/** A change of the sum of squares that is not to be told from rounding, relative to the sum. */
const BLUR = 1e-10;
/** Good enough where no step helps any more, because the residuals round more than their terms do: against the residuals… */
const SETTLED = 1e-2;
/** …and against the terms. */
const SETTLED_TERMS = 1e-9;
/** A column that lies in the span of those before it up to this share is no column of its own. */
const DEPENDENT = 1e-13;

/** Of the factor by which the damping grows, doubling from one bad step to the next: by then steps are 1e-40 as long. */
const MOST_GROWTH = 65_536;

/**
 * Nonlinear least squares with few parameters: damped Gauss–Newton (Levenberg–Marquardt). Each step p solves
 *
 *     min |J·p + r|² + damping · |D·p|²
 *
 * by QR, never by normal equations; D holds the largest norm that each column of J has had, so that the units of the
 * parameters do not matter. The search ends where a step has nothing left to gain: |Qᵀr| ≤ 1e-10 · |r|, or at the
 * rounding of the residuals where they vanish. The last, undamped step is still taken.
 *
 * Accuracy: on the 17 nonlinear reference sets of NIST at least 9 digits of every parameter and standard deviation.
 * @source D. W. Marquardt, J. SIAM 11 (1963); scaling: J. J. Moré, Lecture Notes in Mathematics 630 (1978); damping by the
 * gain ratio: H. B. Nielsen, IMM-REP-1999-05; stopping by the relative offset: D. M. Bates and D. G. Watts,
 * Technometrics 23 (1981)
 */
export function leastSquares(problem: LeastSquaresProblem): Answer<LeastSquares, LeastSquaresFailure> {
  const { start, count, evaluate, iterationLimit = 200 } = problem;
  let { damping = 1e-3 } = problem;
  const width = start.length;
  const [residuals, jacobian] = [new Float64Array(count), new Float64Array(count * width)];
  const [triangle, side, scale] = [new Float64Array(width * width), new Float64Array(width), new Float64Array(width)];
  const [damped, dampedSide] = [new Float64Array(2 * width * width), new Float64Array(2 * width)];
  const by = new Float64Array(width);

  const sumAt = (parameters: Float64Array): number => {
    evaluate(parameters, residuals, jacobian);
    return dot(residuals, residuals);
  };

  /** Makes the damped step, and says what it gains where the residuals are as straight as their derivatives say. */
  const step = (share: number): number => {
    damped.fill(0);
    dampedSide.fill(0);
    dampedSide.set(side);
    for (let j = 0; j < width; j++) {
      damped.set(triangle.subarray(j * width, (j + 1) * width), 2 * j * width);
      damped[(2 * j + 1) * width + j] = Math.sqrt(share) * (scale[j] || 1);
    }
    triangularize(damped, dampedSide, width);
    backSubstitute(damped, 2 * width, dampedSide, by);
    // p·(−Jᵀr) + damping · |D·p|², where p·(−Jᵀr) is the squared length of the side that was just reduced.
    return by.reduce((sum, x, j) => sum + (dampedSide[j] as number) ** 2 + share * ((scale[j] || 1) * x) ** 2, 0);
  };

  let point = Float64Array.from(start);
  let trial = new Float64Array(width);
  let sum = sumAt(point);
  if (!Number.isFinite(sum)) return none("not-finite");
  if (count < width) return none("singular");
  let last = Number.POSITIVE_INFINITY;
  for (let iterations = 0; ; ) {
    // The point that was evaluated last comes down to R and −Qᵀr.
    triangularize(jacobian, residuals, width);
    let [square, terms, dependent] = [0, 0, false];
    for (let j = 0; j < width; j++) {
      const column = triangle.subarray(j * width, j * width + j + 1);
      column.set(jacobian.subarray(j * count, j * count + j + 1));
      const norm = Math.sqrt(dot(column, column));
      scale[j] = Math.max(scale[j] as number, norm);
      side[j] = -(residuals[j] as number);
      terms += norm * Math.abs(point[j] as number);
      if (Math.abs(column[j] as number) <= DEPENDENT * norm) dependent = true;
      else square += (side[j] as number) ** 2;
    }
    // What is left to gain, as a length.
    const offset = Math.sqrt(square);
    const size = Math.sqrt(sum);
    const found = (): Answer<LeastSquares, LeastSquaresFailure> => {
      if (dependent) return none("singular");
      step(0);
      const parameters = Array.from(point, (x, j) => x + (by[j] as number));
      return {
        kind: "found",
        parameters,
        sumOfSquares: sum,
        covariance: covarianceOf(triangle, width, width),
        iterations,
      };
    };
    const rounding = ROUNDING * terms;
    // A step gains the square of what is left. Where that drowns in rounding, what is left must itself go down.
    const blur = Math.max(BLUR * sum, rounding * size);
    const blind = square <= blur;
    if (offset <= Math.max(CLOSE * size, rounding) || (blind && offset >= last)) return found();
    last = blind ? offset : Number.POSITIVE_INFINITY;
    for (let growth = 2; ; growth *= 2) {
      if (growth > MOST_GROWTH) {
        if (offset <= Math.max(SETTLED * size, SETTLED_TERMS * terms)) return found();
        return none(dependent ? "singular" : "stalled");
      }
      if (iterations++ >= iterationLimit) return none("iteration-limit");
      const full = blind && growth === 2;
      const gain = step(full ? 0 : damping);
      for (let j = 0; j < width; j++) trial[j] = (point[j] as number) + (by[j] as number);
      const next = sumAt(trial);
      const ratio = (sum - next) / gain;
      if (full ? next <= sum + blur : ratio > 1e-4) {
        if (!full) damping *= Math.max(1 / 3, 1 - (2 * ratio - 1) ** 3);
        [point, trial, sum] = [trial, point, next];
        break;
      }
      damping *= growth;
    }
  }
}

const none = (reason: LeastSquaresFailure) => ({ kind: "none", reason }) as const;
