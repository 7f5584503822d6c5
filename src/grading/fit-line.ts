import type { Answer } from "../base/answer.js";
import { fail, finite, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import { meanOf } from "./mean.js";

/** A point of a line. */
export interface LinePoint {
  readonly x: number;
  readonly y: number;
}

/** A straight line through scattered points, y = intercept + slope · x, with what is known of it. */
export interface Line {
  readonly intercept: number;
  readonly slope: number;
  /** Standard uncertainties, from the scatter of the points about the line. */
  readonly interceptStandard: number;
  readonly slopeStandard: number;
  /** Between intercept and slope. */
  readonly correlation: number;
  /** Standard deviation of the points about the line, of `degreesOfFreedom` = points − 2. */
  readonly residual: number;
  readonly degreesOfFreedom: number;
}

/**
 * The least-squares line through points whose y scatter alike.
 *
 * @param points - Three or more, not all at one x.
 * @returns `none` where all x are the same: there is no line.
 * @throws A {@link InputError} for fewer than three points, and for values that are not finite.
 * Accuracy: sums from the means on, so that nothing cancels: 1e-13 of what the points spread over.
 * @source JCGM 100:2008 H.3.2 (formulas H.13a to H.13g)
 *
 * @example
 * import { fitLine, valueOnLine } from "tripwright/grading";
 * const line = fitLine([{ x: 0, y: 1 }, { x: 1, y: 3 }, { x: 2, y: 5 }]);
 * line.kind === "found" && valueOnLine(line, 4); // → { value: 9, standard: 0 }
 */
export function fitLine(points: readonly LinePoint[]): Answer<Line, "all-at-one-x"> {
  if (!Array.isArray(points) || points.length < 3)
    fail(
      points === undefined ? "missing" : "wrong-length",
      "points",
      "a list of three points { x, y } or more",
      points,
    );
  points.forEach((point, i) => {
    within(`points[${i}]`, () => {
      object(point, "", "a point { x, y }");
      finite(point.x, "x", "a number");
      finite(point.y, "y", "a number");
    });
  });
  const [middleX, middleY] = [meanOf(points.map(({ x }) => x)), meanOf(points.map(({ y }) => y))];
  const sum = (term: (dx: number, dy: number) => number): number =>
    points.reduce((total, { x, y }) => total + term(x - middleX, y - middleY), 0);
  const spread = sum((dx) => dx * dx);
  if (!(spread > 0)) return { kind: "none", reason: "all-at-one-x" };
  const slope = sum((dx, dy) => dx * dy) / spread;
  const degreesOfFreedom = points.length - 2;
  const residual = Math.sqrt(sum((dx, dy) => (dy - slope * dx) ** 2) / degreesOfFreedom);
  const slopeStandard = residual / Math.sqrt(spread);
  const interceptStandard = residual * Math.sqrt(1 / points.length + (middleX * middleX) / spread);
  const squares = points.reduce((total, { x }) => total + x * x, 0);
  return {
    kind: "found",
    intercept: middleY - slope * middleX,
    slope,
    interceptStandard,
    slopeStandard,
    correlation: -(middleX * Math.sqrt(points.length)) / Math.sqrt(squares) + 0,
    residual,
    degreesOfFreedom,
  };
}

/**
 * The value of a fitted line at an x, with the standard uncertainty that intercept and slope leave on it; they correlate.
 *
 *     u² = u(intercept)² + x² · u(slope)² + 2x · u(intercept) · u(slope) · r
 *
 * @throws A {@link InputError} for an x that is not finite.
 * Accuracy: 1e-13 of the parts.
 * @source JCGM 100:2008 H.3.4 (formula H.15)
 *
 * @example
 * import { fitLine, valueOnLine } from "tripwright/grading";
 * const line = fitLine([{ x: 0, y: 0 }, { x: 1, y: 1 }, { x: 2, y: 2 }]);
 * line.kind === "found" && valueOnLine(line, 0.5).value; // → 0.5
 */
export function valueOnLine(line: Line, x: number): { readonly value: number; readonly standard: number } {
  finite(x, "x", "a number");
  const { intercept, slope, interceptStandard: a, slopeStandard: b, correlation } = object(line, "line", "a line");
  const variance = a * a + x * x * b * b + 2 * x * a * b * correlation;
  return { value: intercept + slope * x, standard: Math.sqrt(Math.max(0, variance)) };
}
