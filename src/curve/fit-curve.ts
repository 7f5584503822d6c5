import { fail, nameIn, options } from "../base/check.js";
import { InputError } from "../base/input-error.js";
import type { Curve, CurveName } from "./curve.js";
import { type CurveFit, fitCandidate, type Judged, type NoCurveFit } from "./fit-candidate.js";
import { readPoints, type TimedInjection } from "./fit-points.js";
import { curveSide, type ReadyCurve, readyCurve } from "./form.js";
import { curveNames } from "./standard.js";

/** What to fit. */
export interface FitOptions {
  /** The candidates; default: every standard curve of the over side. */
  readonly curves?: readonly (CurveName | Curve)[];
  /** The pickup is unknown too, and the points give levels in place of multiples. */
  readonly pickup?: "free";
  /** Among the candidates is the inverse equation with constants k, alpha and c of its own. */
  readonly constants?: "free";
}

/** Three standard uncertainties: chance alone puts the true curve this far behind another in one case of 700 at most. */
const TELLING = 9;
/** Misfits that differ by this share are the same: what sets them apart is rounding. */
const SAME = 1e-9;
/** Relative errors below this are rounding. */
const ROUNDING = 1e-13;

/**
 * Fits timed injections: the best multiplier for each candidate curve, the best candidate first.
 *
 *     without uncertainties: S = Σ ((t − multiplier · f(M))/t)² is least, since relays declare relative errors
 *     with uncertainties:    S = χ² = Σ ((t − multiplier · f(M))/u)² is least
 *
 * With the pickup known the multiplier has a closed form. With `pickup: "free"`, M = level/pickup, and with
 * `constants: "free"`, f(M) = k/(M^alpha − 1) + c and c ≥ 0, the rest is searched from the best place of a coarse grid
 * by damped Gauss–Newton steps. The curve and multiplier of a fit are a setting for {@link operateTime}.
 *
 * Ranked is by S over the degrees of freedom ν. Candidates are tied where the points cannot tell them apart: where their
 * S differ by less than a gap, seen from the best of all. With uncertainties the gap is 9 (times S/ν of the best, where
 * that is above 1: then they are too small). Without, it is as wide as the spread of the best calls for,
 * S · (e^g − 1) with g = 9/ν · ((8ν + 3)/(8ν + 1))²: at ν = 3 another candidate needs 33 times the S of the best, for many
 * points 9 · S/ν more. With ν = 0 everything is tied. Curves of one shape, such as very inverse and long-time inverse, are
 * always tied, in the order of the candidates.
 *
 * @param points - Timed injections, in any order; a multiple may come several times.
 * @returns The candidates that fit, best first, and then those that do not, with the reason: see {@link NoFit}.
 * @throws A {@link InputError} with the place of a bad point (`points[2].time`) or curve (`curves[0].k`), for unknown
 * options, for a point outside a table, and for a table where the pickup is free.
 * Accuracy: from exact times at multiples of 1.05 to 20 that lie a factor of 1.5 apart, multiplier and pickup come back
 * within 1e-11 relative, free constants within 1e-8.
 * @source least squares and their uncertainties: JCGM 100:2008 H.3; g turns a Student t of ν degrees into a normal
 * quantile: D. L. Wallace, Annals of Mathematical Statistics 30 (1959), from memory; three standard uncertainties and the
 * widening by S/ν are choices
 *
 * @example
 * import { fitCurve } from "tripwright/curve";
 * const [best] = fitCurve([
 *   { multiple: 2, time: 2.72 },
 *   { multiple: 5, time: 0.67 },
 *   { multiple: 10, time: 0.301 },
 *   { multiple: 15, time: 0.192 },
 * ]);
 * if (best?.kind === "found") {
 *   best.curve; // → "iec-very-inverse"
 *   best.multiplier.toFixed(4); // → "0.1999"
 *   best.tiedWith; // → ["long-time-inverse", "overvoltage-inverse"]
 * }
 * const levels = [
 *   { level: 6, time: 9.01 },
 *   { level: 8, time: 4.43 },
 *   { level: 12, time: 2.24 },
 *   { level: 40, time: 0.494 },
 * ];
 * const [free] = fitCurve(levels, { curves: ["iec-very-inverse"], pickup: "free" });
 * if (free?.kind === "found") free.pickup?.toFixed(2); // → "4.02"
 */
export function fitCurve(points: readonly TimedInjection[], what: FitOptions = {}): readonly (CurveFit | NoCurveFit)[] {
  const { curves = overCurves(), pickup, constants } = options(what, ["curves", "pickup", "constants"]);
  if (pickup !== undefined) nameIn(pickup, { free: 0 }, "pickup");
  if (constants !== undefined) nameIn(constants, { free: 0 }, "constants");
  const read = readPoints(points, pickup === "free");
  const answers = curves.map((curve, i) =>
    fitCandidate(read, curve, readCandidate(curve, `curves[${i}]`, read.freePickup)),
  );
  if (constants) answers.push(fitCandidate(read));
  // What rounding alone may leave, as a length: so is the root of a sum of squares.
  const floor = Math.hypot(...read.times.map((time, i) => ROUNDING * time * (read.weights[i] as number)));
  const same = (a: Judged, b: Judged) =>
    Math.abs(Math.sqrt(a.sum) - Math.sqrt(b.sum)) <= SAME * Math.sqrt(a.sum) + floor;
  const ranked = answers
    .filter((answer): answer is Judged => "fit" in answer)
    .sort((a, b) => (same(a, b) ? 0 : misfit(a) - misfit(b)));
  const gap = ranked[0] ? tellingGap(ranked[0], read.known, floor) : 0;
  const isTied = (a: Judged, b: Judged) => a !== b && (Math.abs(a.sum - b.sum) < gap || same(a, b));
  return [
    ...ranked.map((one) => ({
      ...one.fit,
      tiedWith: ranked.filter((other) => isTied(one, other)).map(({ fit }) => fit.curve),
    })),
    ...answers.filter((answer): answer is NoCurveFit => !("fit" in answer)),
  ];
}

const overCurves = () => curveNames.filter((name) => curveSide(name) === "over");

function readCandidate(curve: Curve | CurveName, path: string, freePickup: boolean): ReadyCurve {
  try {
    const ready = readyCurve(curve);
    if (freePickup && ready.curve.form === "table")
      fail("not-applicable", "curve", "a curve that goes beyond its points, since the pickup is free", "a table");
    return ready;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.problems.map((problem) => ({ ...problem, path: problem.path.replace("curve", path) })));
  }
}

/** How much the sums of squares of two candidates must differ to tell them apart, seen from the best of all. */
function tellingGap(best: Judged, known: boolean, floor: number): number {
  if (known) return TELLING * Math.max(1, misfit(best));
  const freedom = best.fit.degreesOfFreedom;
  // Without any freedom the gap is infinite, as it should be.
  return (best.sum + floor ** 2) * Math.expm1((TELLING / freedom) * ((8 * freedom + 3) / (8 * freedom + 1)) ** 2);
}

const misfit = ({ sum, fit }: Judged): number => sum / (fit.degreesOfFreedom || 1);
