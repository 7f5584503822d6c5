import type { Answer } from "../base/answer.js";
import { leastSquares } from "../base/least-squares.js";
import { backSubstitute, covarianceOf, dot, triangularize } from "../base/qr.js";

/** A model that is straight in one or two coefficients and bent in a few other values, which have to be searched. */
export interface Separable {
  readonly target: Float64Array;
  /** The target is fitted by Σ coefficient · column. The first coefficient is above 0, the second, if any, not below. */
  readonly columns: (searched: readonly number[]) => readonly Float64Array[];
  /** Where each searched value may lie, in steps of about 1: the search begins at the best place of their grid. */
  readonly axes: readonly (readonly number[])[];
}

/** The best values. */
export interface Solution {
  /** The coefficients, then the searched values. */
  readonly values: readonly number[];
  /** How many of them are coefficients: one less than columns where the second is 0, since it would come out negative. */
  readonly straight: number;
  /** The sum of squares that is left. */
  readonly sum: number;
  /** Of the values, where each element of the target has variance 1. */
  readonly covariance: readonly (readonly number[])[];
  /** Steps that the last search tried; absent where nothing was searched. */
  readonly iterations?: number;
}

/** Why there is none: no first coefficient above 0 fits; nothing tells the best, or it lies outside; no end was found. */
type NoSolution = "not-inverse" | "undetermined" | "no-convergence";

/** Where a central difference loses as little to rounding as to truncation. */
const STEP = 1e-5;

/** Least squares: in closed form where nothing is searched, else by damped Gauss–Newton steps from the best of a grid. */
export function solveSeparable(model: Separable): Answer<Solution, NoSolution> {
  const places = model.axes.reduce<number[][]>(
    (places, axis) => places.flatMap((place) => axis.map((x) => [...place, x])),
    [[]],
  );
  const best = places.map((place) => solveAt(model, place)).reduce((a, b) => (b.sum < a.sum ? b : a));
  if (best.sum === Number.POSITIVE_INFINITY) return { kind: "none", reason: "not-inverse" };
  return model.axes.length > 0 ? search(model, best) : { kind: "found", ...best };
}

/** The best coefficients for one place; an infinite sum where the first is not above 0. */
function solveAt({ target, columns }: Separable, searched: readonly number[], most = 2): Solution {
  const parts = columns(searched).slice(0, most);
  const [rows, straight] = [target.length, parts.length];
  const matrix = Float64Array.from(parts.flatMap((part) => [...part]));
  const [side, solved] = [target.slice(), new Float64Array(straight)];
  triangularize(matrix, side, straight);
  backSubstitute(matrix, rows, side, solved);
  if ((solved[1] as number) < 0) return solveAt({ target, columns, axes: [] }, searched, 1);
  return {
    values: [...solved, ...searched],
    straight,
    sum: (solved[0] as number) > 0 ? dot(side, side, straight) : Number.POSITIVE_INFINITY,
    covariance: covarianceOf(matrix, rows, straight),
  };
}

function search(model: Separable, start: Solution): Answer<Solution, NoSolution> {
  const { target, columns, axes } = model;
  const { values, straight } = start;
  const count = target.length;
  let left = false;
  const fit = leastSquares({
    start: values,
    count,
    evaluate: (parameters, residuals, jacobian) => {
      const searched = [...parameters.subarray(straight)];
      const parts = columns(searched);
      const total = (columns: readonly Float64Array[], i: number) =>
        columns.reduce(
          (sum, column, l) => (l < straight ? sum + (parameters[l] as number) * (column[i] as number) : sum),
          0,
        );
      const outside = searched.some((x, j) => !(x >= (axes[j]?.[0] as number) && x <= (axes[j]?.at(-1) as number)));
      left ||= outside;
      for (let l = 0; l < straight; l++) jacobian.set(parts[l] as Float64Array, l * count);
      for (let i = 0; i < count; i++) residuals[i] = outside ? Number.NaN : total(parts, i) - (target[i] as number);
      searched.forEach((x, j) => {
        const [up, down] = [columns(searched.with(j, x + STEP)), columns(searched.with(j, x - STEP))];
        jacobian.set(
          target.map((_, i) => (total(up, i) - total(down, i)) / (2 * STEP)),
          (straight + j) * count,
        );
      });
    },
  });
  if (fit.kind === "none") {
    return { kind: "none", reason: left || fit.reason === "singular" ? "undetermined" : "no-convergence" };
  }
  const { parameters, sumOfSquares: sum, covariance, iterations } = fit;
  if (straight > 1 && (parameters[1] as number) < 0) {
    return search(model, solveAt(model, parameters.slice(straight), 1));
  }
  if (!((parameters[0] as number) > 0)) return { kind: "none", reason: "not-inverse" };
  return { kind: "found", values: parameters, straight, sum, covariance, iterations };
}
