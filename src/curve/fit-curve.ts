import { nameIn, options } from "../base/check.js";
import { retold } from "../base/input-error.js";
import { readEach } from "../base/read-each.js";
import type { Curve, CurveName } from "./curve.js";
import { type Candidate, fitCandidate, type Judged } from "./fit-candidate.js";
import { type FitPoints, readPoints, type TimedInjection } from "./fit-points.js";
import type { CurveFit, NoCurveFit } from "./fit-result.js";
import { curveSide } from "./form.js";
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

/**
 * Fits timed injections: the best multiplier for each candidate curve, the best candidate first.
 *
 *     without uncertainties: S = Σ ((t − multiplier · f(M))/t)² is least, since the errors of relays are relative
 *     with uncertainties u:  S = χ² = Σ ((t − multiplier · f(M))/u)² is least
 *
 * The multiplier has a closed form. With `pickup: "free"`, M = level/pickup, and with `constants: "free"`,
 * f(M) = k/(M^alpha − 1) + c, the rest is searched by damped Gauss–Newton steps; c stays 0 where it would come out below,
 * or undetermined. Near the pickup a small error of the level is a large one of the time: give such points a larger
 * uncertainty, or leave them out. The curve and multiplier of a fit are a setting for {@link operateTime}.
 *
 * Ranked is by S over the degrees of freedom ν, points less fitted values. Two candidates are tied, the points cannot tell
 * them apart, where their S differ by less than 3.84 (5.99 where one fits two values more): quantiles of χ² at 95 %. Where
 * the best of all has S/ν above 1, its uncertainties are too small, and the limit grows with it. Without uncertainties the
 * scatter of the best has to tell: the limit is S · (e^g − 1) with g = 3.84/ν · ((8ν + 3)/(8ν + 1))², about 3.84 · S/ν
 * for many points, 10 · S for ν = 2; with ν = 0 all are tied. Chance parts the true curve from another one in at most one
 * case of 40, from the best of all standard curves in one of 20. Curves of one shape, such as very inverse and long-time
 * inverse, are always tied, in the order of the candidates.
 *
 * @param points - Timed injections, in any order; a multiple may come several times.
 * @returns The candidates that fit, best first, and then those that do not, with the reason: see {@link NoCurveFitReason}.
 * @throws A {@link InputError} with the place of a bad point (`points[2].time`) or curve (`curves[0].k`), and for unknown
 * options.
 * Accuracy: from exact times at multiples of 1.05 to 20 the multiplier comes back within 4 units in the last place. Where
 * the points lie a factor of 1.1 apart and reach over one of 1.5, a free pickup and its multiplier come back within 1e-12
 * relative; free constants from 7 points over a factor of 13 within 1e-9 of them (c: of the shortest time), with the
 * pickup within 1e-8.
 * @source least squares and their uncertainties: JCGM 100:2008 H.3; g turns a quantile of Student's t into one of the
 * normal distribution: D. L. Wallace, Annals of Mathematical Statistics 30 (1959), from memory
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
  const { curves = overCurves(), ...free } = options(what, ["curves", "pickup", "constants"]);
  for (const [name, value] of Object.entries(free)) if (value !== undefined) nameIn(value, { free: 0 }, name);
  const read = readPoints(points, free.pickup ? "level" : "multiple");
  const pickup = free.pickup ? (["pickup"] as const) : [];
  const answers = readEach(curves, "curves", "a list of curves", (curve) =>
    fitNamed(read, { curve, unknowns: ["multiplier", ...pickup] }),
  );
  if (free.constants) {
    const full = fitCandidate(read, { unknowns: ["k", "alpha", "c", ...pickup] });
    answers.push("fit" in full ? full : fitCandidate(read, { unknowns: ["k", "alpha", ...pickup] }));
  }
  const ranked = answers.filter((answer) => "fit" in answer).sort((a, b) => misfit(a) - misfit(b));
  const isTied = (a: Judged, b: Judged) =>
    a !== b &&
    Math.abs(a.sum - b.sum) < tellingGap(ranked[0] as Judged, a.fit.degreesOfFreedom - b.fit.degreesOfFreedom);
  return [
    ...ranked.map((one) => ({
      ...one.fit,
      tiedWith: ranked.filter((other) => isTied(one, other)).map(({ fit }) => fit.curve),
    })),
    ...answers.filter((answer) => "reason" in answer),
  ];
}

const overCurves = () => curveNames.filter((name) => curveSide(name) === "over");

/** The problems of a candidate stand at its own place in the list, not at the `curve` of a setting. */
const fitNamed = (points: FitPoints, candidate: Candidate): Judged | NoCurveFit =>
  retold(
    (problem) => ({ ...problem, path: problem.path.replace(/^curve\.?/, "") }),
    () => fitCandidate(points, candidate),
  );

/** The sum of squares per degree of freedom, to six digits: curves of one shape differ by rounding only. */
const misfit = ({ sum, fit }: Judged): number => Number((sum / (fit.degreesOfFreedom || 1)).toPrecision(6));

/** By how much the sums of squares of two candidates must differ to tell them apart, seen from the best of all. */
function tellingGap(best: Judged, difference: number): number {
  const quantile = Math.abs(difference) > 1 ? 5.99 : 3.84;
  if (best.fit.chiSquared !== undefined) return quantile * Math.max(1, misfit(best));
  const n = best.fit.degreesOfFreedom;
  // Infinite where no degree of freedom is left, as it should be.
  return best.sum * Math.expm1((quantile / n) * ((8 * n + 3) / (8 * n + 1)) ** 2);
}
