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
/** What is left to gain is below this share of the residuals: a step that gains it may not show through their rounding. */
const BLIND = 1e-5;
/** The same as a share of the terms that the residuals are made of, derivative · parameter. */
const BLIND_TERMS = 1e-9;
/** A column that lies in the span of those before it up to this share is no column of its own. */
const DEPENDENT = 1e-13;

/** Bad steps multiply the damping by 2, 4, 8 …; beyond this factor a step is below 1e-40 of the first, and the search ends. */
const MOST_GROWTH = 65_536;

/**
 * Nonlinear least squares with few parameters: damped Gauss–Newton (Levenberg–Marquardt). Each step p solves
 *
 *     min |J·p + r|² + damping · |D·p|²
 *
 * by QR, never by normal equations; D holds the largest norm that each column of J has had, so that the units of the
 * parameters do not matter. The search ends where a step has nothing left to gain: |Qᵀr| ≤ 1e-10 · |r|, or at the
 * rounding of the residuals where they vanish, or where little is left and it no longer shrinks. The last, undamped step
 * is still taken.
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
  // R and −Qᵀr, with room below for the damping.
  const [triangle, side] = [new Float64Array(2 * width * width), new Float64Array(2 * width)];
  // The largest norm that each column has had, never 0.
  const scale = new Float64Array(width).fill(1e-100);
  const stepVector = new Float64Array(width);

  const sumAt = (parameters: Float64Array): number => {
    evaluate(parameters, residuals, jacobian);
    return dot(residuals, residuals);
  };

  /** Makes the damped step, and says what it gains where the residuals are as straight as their derivatives say. */
  const step = (share: number): number => {
    const [matrix, rest] = [triangle.slice(), side.slice()];
    scale.forEach((norm, j) => {
      matrix[(2 * j + 1) * width + j] = Math.sqrt(share) * norm;
    });
    triangularize(matrix, rest, width);
    backSubstitute(matrix, 2 * width, rest, stepVector);
    // p·(−Jᵀr) + damping · |D·p|², where p·(−Jᵀr) is the squared length of the side that was just reduced.
    return stepVector.reduce(
      (sum, x, j) => sum + (rest[j] as number) ** 2 + share * ((scale[j] as number) * x) ** 2,
      0,
    );
  };

  /** Brings what was evaluated last, at a point, down to R and −Qᵀr. */
  const reduce = (point: Float64Array): Reduced => {
    triangularize(jacobian, residuals, width);
    let [square, terms, dependent] = [0, 0, false];
    scale.forEach((before, j) => {
      const column = jacobian.subarray(j * count, j * count + j + 1);
      const norm = Math.sqrt(dot(column, column));
      triangle.set(column, 2 * j * width);
      side[j] = -(residuals[j] as number);
      scale[j] = Math.max(before, norm);
      terms += norm * Math.abs(point[j] as number);
      if (Math.abs(column[j] as number) <= DEPENDENT * norm) dependent = true;
      else square += (side[j] as number) ** 2;
    });
    return { offset: Math.sqrt(square), terms, dependent };
  };

  let point = Float64Array.from(start);
  let sum = sumAt(point);
  if (!Number.isFinite(sum)) return none("not-finite");
  if (count < width) return none("singular");
  let last = Number.POSITIVE_INFINITY;
  for (let iterations = 0; ; ) {
    const { offset, terms, dependent } = reduce(point);
    const size = Math.sqrt(sum);
    const blur = Math.max(BLIND * size, BLIND_TERMS * terms);
    let done = offset <= Math.max(CLOSE * size, ROUNDING * terms) || (offset <= blur && offset > 0.9 * last);
    last = offset;
    for (let growth = 2; !done; growth *= 2) {
      if (iterations++ >= iterationLimit) return none("iteration-limit");
      // Where the gain drowns in rounding, what is left must itself go down.
      const full = offset <= blur && growth === 2;
      const gain = step(full ? 0 : damping);
      const trial = point.map((x, j) => x + (stepVector[j] as number));
      const next = sumAt(trial);
      const ratio = (sum - next) / gain;
      if (full ? next <= sum + blur ** 2 : ratio > 1e-4) {
        if (!full) damping *= Math.max(1 / 3, 1 - (2 * ratio - 1) ** 3);
        [point, sum] = [trial, next];
        break;
      }
      damping *= growth;
      if (growth > MOST_GROWTH) {
        if (offset > blur) return none(dependent ? "singular" : "stalled");
        done = true;
      }
    }
    if (done) {
      if (dependent) return none("singular");
      step(0);
      return {
        kind: "found",
        parameters: Array.from(point, (x, j) => x + (stepVector[j] as number)),
        sumOfSquares: sum,
        covariance: covarianceOf(triangle, 2 * width, width),
        iterations,
      };
    }
  }
}

/** A point as the search sees it. */
interface Reduced {
  /** What is left to gain, as a length. */
  readonly offset: number;
  /** The size of the terms that the residuals are made of. */
  readonly terms: number;
  /** Whether a column lies in the span of those before it. */
  readonly dependent: boolean;
}

const none = (reason: LeastSquaresFailure) => ({ kind: "none", reason }) as const;
