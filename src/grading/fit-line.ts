import type { Answer } from "../base/answer.js";
import { atLeast, fail, finite, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import { readEach } from "../base/read-each.js";
import { meanOf, rootOfSquares, sumOf } from "./mean.js";

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
  /** Means of the points, through which the line goes; there it is known best. */
  readonly middle: LinePoint;
  /** Standard deviation of the points about the line, of `degreesOfFreedom` = points − 2. */
  readonly residual: number;
  readonly degreesOfFreedom: number;
}

/**
 * The least-squares line through points whose y scatter alike.
 *
 *     slope = Σ (x − x̄)·(y − ȳ)/S,   S = Σ (x − x̄)²,   s² = Σ (y − ȳ − slope·(x − x̄))²/(n − 2)
 *     u(slope)² = s²/S,   u(intercept)² = s²·(1/n + x̄²/S),   r = −x̄/√(x̄² + S/n)
 *
 * @param points - Three or more, not all at one x.
 * @returns `none` where all x are the same: there is no line.
 * @throws A {@link InputError} for fewer than three points, for values that are not finite, and for points so far apart that
 * their line does not fit doubles.
 * Accuracy: slope and intercept 4e-15 of the spread of y over that of x, and of its rise from the middle to x = 0;
 * uncertainties 4e-15 of themselves, and as much more as the spread of y is larger than the scatter, of which it takes digits.
 * @source JCGM 100:2008 H.3.2 (formulas H.13a to H.13g)
 *
 * @example
 * import { fitLine, valueOnLine } from "tripwright/grading";
 * const line = fitLine([{ x: 0, y: 1 }, { x: 1, y: 3 }, { x: 2, y: 5 }]);
 * line.kind === "found" && valueOnLine(line, 4); // → { value: 9, standard: 0 }
 */
export function fitLine(points: readonly LinePoint[]): Answer<Line, "all-at-one-x"> {
  return lineThrough(points, "points");
}

/** The same for points that the caller knows under a name of its own. */
export function lineThrough(points: readonly LinePoint[], path: string): Answer<Line, "all-at-one-x"> {
  const { xs, ys } = coordinates(points);
  const middle = { x: meanOf(xs), y: meanOf(ys) };
  const reach = xs.reduce((most, x) => Math.max(most, Math.abs(x - middle.x)), 0);
  if (reach === 0) return { kind: "none", reason: "all-at-one-x" };
  // In units of the reach, so that no square leaves the range of a double.
  const across = xs.map((x) => (x - middle.x) / reach);
  const up = (i: number): number => (ys[i] as number) - middle.y;
  const spread = sumOf(across, (u) => u * u);
  const rise = sumOf(across, (u, i) => u * up(i)) / spread;
  const degreesOfFreedom = xs.length - 2;
  const residual = rootOfSquares(across.map((u, i) => up(i) - rise * u)) / Math.sqrt(degreesOfFreedom);
  const width = reach * Math.sqrt(spread);
  const slope = rise / reach + 0;
  const line = {
    intercept: middle.y - slope * middle.x,
    slope,
    interceptStandard: residual * Math.hypot(1 / Math.sqrt(xs.length), middle.x / width),
    slopeStandard: residual / width,
    correlation: -middle.x / Math.hypot(middle.x, width / Math.sqrt(xs.length)) + 0,
    residual,
    degreesOfFreedom,
  };
  if (!Object.values(line).every(Number.isFinite)) fail("out-of-range", path, "points whose line fits doubles", points);
  return { kind: "found", ...line, middle };
}

function coordinates(points: readonly LinePoint[]): { readonly xs: number[]; readonly ys: number[] } {
  const read = readEach(points, "points", "a list of three points { x, y } or more", checkPoint, 3);
  return { xs: read.map(({ x }) => x), ys: read.map(({ y }) => y) };
}

function checkPoint(point: LinePoint): LinePoint {
  const { x, y } = object(point, "", "a point { x, y }");
  return { x: finite(x, "x", "a number"), y: finite(y, "y", "a number") };
}

/**
 * The value of a fitted line at an x, with the standard uncertainty that intercept and slope leave on it. The two correlate;
 * about the middle of the points they do not, and nothing cancels far from x = 0:
 *
 *     y = ȳ + slope · (x − x̄),   u² = s²/n + (x − x̄)² · u(slope)²
 *
 * @throws A {@link InputError} for an x that is not finite, a line that is none, and a value beyond the range of doubles.
 * Accuracy: that of the line; the place as if x and the middle were off by half their last digit.
 * @source JCGM 100:2008 H.3.4 and H.3.5 (formulas H.14, H.15)
 *
 * @example
 * import { fitLine, valueOnLine } from "tripwright/grading";
 * const line = fitLine([{ x: 0, y: 0 }, { x: 1, y: 1.2 }, { x: 2, y: 1.8 }]);
 * line.kind === "found" && valueOnLine(line, 0.5).value; // → 0.55
 */
export function valueOnLine(line: Line, x: number): { readonly value: number; readonly standard: number } {
  finite(x, "x", "a number");
  const { slope, slopeStandard, middle, residual, degreesOfFreedom } = object(line, "line", "a line from fitLine");
  const { x: middleX, y: middleY } = within("middle", () => checkPoint(middle));
  finite(slope, "slope", "a slope");
  for (const [path, size] of [
    ["slopeStandard", slopeStandard],
    ["residual", residual],
    ["degreesOfFreedom", degreesOfFreedom],
  ] as const)
    atLeast(size, 0, path, "a number");
  const away = x - middleX;
  const value = middleY + slope * away;
  const standard = Math.hypot(residual / Math.sqrt(degreesOfFreedom + 2), away * slopeStandard);
  finite(value, "x", "a place where the line fits a double");
  return { value, standard: finite(standard, "x", "a place where the line fits a double") };
}
