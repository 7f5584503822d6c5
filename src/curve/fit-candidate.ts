/** One candidate against timed points. */
import type { Curve, CurveName } from "./curve.js";
import type { FitPoints } from "./fit-points.js";
import type { CurveFit, FitUncertainties, NoCurveFit, NoCurveFitReason } from "./fit-result.js";
import { bestValues } from "./fit-search.js";
import { powerMinusOne } from "./power.js";
import { isStarted, readySetting } from "./ready.js";
import { timeOr } from "./table.js";

/** What to fit: the inverse equation where there is no curve. */
export interface Candidate {
  readonly curve?: CurveName | Curve;
  /** The first is what the times are proportional to, c aside. */
  readonly unknowns: readonly (keyof FitUncertainties)[];
}

/** A fit, and the sum of the squares of its weighted residuals. */
export interface Judged {
  readonly fit: Omit<CurveFit, "tiedWith">;
  readonly sum: number;
}

/** A sum of squared relative errors that counts as none: no timer resolves a millionth. */
const NONE = 1e-12;

/** Fits a candidate; a bad curve stands at `curve`. */
export function fitCandidate({ points, known }: FitPoints, { curve, unknowns }: Candidate): Judged | NoCurveFit {
  // The inverse equation starts like any curve of its form; what was given in place of a curve is refused.
  const ready = readySetting({ curve: unknowns[0] === "k" ? "iec-inverse" : (curve as Curve) });
  const none = (reason: NoCurveFitReason): NoCurveFit => ({ kind: "none", ...(curve && { curve }), reason });
  const levels = points.map(({ level }) => level);
  const width = unknowns.length;
  if (new Set(levels).size < (width > 1 ? width + 1 : 1)) return none("too-few-points");

  const isBent = (j: number) => unknowns[j] === "alpha" || unknowns[j] === "pickup";
  const named = (values: readonly number[]): FitUncertainties =>
    Object.fromEntries(unknowns.map((name, j) => [name, values[j]]));
  const timeAt = (level: number, { multiplier = 1, k = 0, alpha = 1, c = 0, pickup = 1 }: FitUncertainties) => {
    const multiple = level / pickup;
    if (!(alpha > 0 && isStarted(ready, multiple))) return Number.NaN;
    const outside = () => Number.NaN;
    return curve ? multiplier * timeOr(() => ready.time(multiple), outside) : k / powerMinusOne(multiple, alpha) + c;
  };
  const [lowest, highest] = [Math.min(...levels), Math.max(...levels)];
  const c = Math.min(...points.map(({ time }) => time)) / 2;
  const answer = bestValues({
    places: [0.99 * lowest, lowest / 2, 2 * highest].map((pickup) =>
      unknowns.map((name) => ({ multiplier: 1, k: 1, alpha: 1, c, pickup })[name]),
    ),
    isBent,
    errorsAt: (values) => {
      const tried = named(values);
      return Float64Array.from(points, ({ level, time, weight }) => (timeAt(level, tried) - time) * weight);
    },
  });
  if (answer.kind === "none") return none(answer.reason);

  const { parameters, covariance, sumOfSquares } = answer;
  const sum = Math.max(NONE, sumOfSquares);
  const degreesOfFreedom = points.length - width;
  // 0 where no degree of freedom is left: the scatter is unknown then, and no uncertainties are given.
  const variance = known ? 1 : degreesOfFreedom && sum / degreesOfFreedom;
  const uncertainties = parameters.map((_, j) => Math.sqrt(variance * (covariance[j]?.[j] as number)));
  const fitted = named(parameters);
  const residuals = points.map(({ level, time }) => time - timeAt(level, fitted));
  const squares = residuals.reduce((total, x, i) => total + (x / (points[i]?.time as number)) ** 2, 0);
  const isTold = parameters.every((x, j) => x > (isBent(j) ? (uncertainties[j] as number) : 0));
  if (!isTold || ![squares, ...uncertainties].every(Number.isFinite)) return none("undetermined");
  const { multiplier = 1, pickup, k = 0, alpha = 0, c: additive = 0 } = fitted;
  return {
    sum,
    fit: {
      kind: "found",
      curve: curve ?? { form: "inverse", k, alpha, c: additive },
      multiplier,
      ...(pickup && { pickup }),
      ...(variance && { uncertainties: named(uncertainties) }),
      residuals,
      relativeResidualRms: Math.sqrt(squares / points.length),
      ...(known && { chiSquared: sumOfSquares }),
      degreesOfFreedom,
    },
  };
}
