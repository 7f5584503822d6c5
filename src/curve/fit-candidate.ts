/** One candidate against timed points. */
import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import type { Curve, CurveName } from "./curve.js";
import type { FitPoints } from "./fit-points.js";
import type { ReadyCurve } from "./form.js";
import { powerMinusOne } from "./power.js";
import { solveSeparable } from "./separable.js";

/**
 * Why a candidate has no fit.
 *
 * - `too-few-points`: fewer different multiples than unknowns; or, where more than the multiplier is unknown, no point
 *   more than unknowns, so that nothing would be left to judge the fit by
 * - `wrong-side`: the function does not operate at one of the multiples
 * - `not-inverse`: the times do not fall as the multiple rises
 * - `undetermined`: the points leave open, by a factor of e or more, the exponent or how far the pickup is from them; or
 *   the best of them lies beyond what makes sense (exponents from 0.005 to 10; the nearest multiple from 1.001 to 100)
 * - `no-convergence`: the search did not settle
 */
export type NoFit = "too-few-points" | "wrong-side" | "not-inverse" | "undetermined" | "no-convergence";

/** Standard uncertainties of what was fitted. */
export interface FitUncertainties {
  readonly multiplier?: number;
  /** In the unit of the levels. */
  readonly pickup?: number;
  readonly k?: Seconds;
  readonly alpha?: number;
  readonly c?: Seconds;
}

/** A candidate with the values that fit best. */
export interface CurveFit {
  readonly kind: "found";
  /** The candidate as it was given, or the constants that were fitted. */
  readonly curve: CurveName | Curve;
  /** 1 where the constants were free, which it cannot be told from. */
  readonly multiplier: number;
  /** Where it was free, in the unit of the levels. */
  readonly pickup?: number;
  /** Standard uncertainties; absent where no point is left to tell how far the points scatter. */
  readonly uncertainties?: FitUncertainties;
  /** Measured − fitted time of each point. */
  readonly residuals: readonly Seconds[];
  /** The root mean square of the residuals relative to the measured times: 0.01 is 1 %. */
  readonly residualRms: number;
  /** Σ (residual/uncertainty)², where these are known: about as much as degreesOfFreedom where all is well. */
  readonly chiSquared?: number;
  /** Points − fitted values. */
  readonly degreesOfFreedom: number;
  /** Other candidates that these points cannot tell from this one, best first. */
  readonly tiedWith: readonly (CurveName | Curve)[];
  /** Steps that the search tried; absent where the fit has a closed form. */
  readonly iterations?: number;
}

/** A candidate that has no fit. */
export interface NoCurveFit {
  readonly kind: "none";
  /** The candidate as it was given; absent: the free constants. */
  readonly curve?: CurveName | Curve;
  readonly reason: NoFit;
}

/** What is compared: the sum of the squares of the weighted residuals, beside what is shown. */
export interface Judged {
  readonly sum: number;
  readonly fit: CurveFit;
}

/** What is fitted: times that are straight in some coefficients, at multiples of the pickup and for other things searched. */
interface Law {
  readonly side: "over" | "under";
  readonly columns: (multiples: readonly number[], searched: readonly number[]) => readonly (readonly Seconds[])[];
  /** Where the other things are searched. */
  readonly axes: readonly (readonly number[])[];
}

const lawOf = ({ side, time }: ReadyCurve): Law => ({
  side,
  columns: (multiples) => [multiples.map((multiple, i) => within(`points[${i}]`, () => time(multiple)))],
  axes: [],
});

/** Searched is ln alpha; the coefficients are k/alpha, because it hardly moves while alpha goes astray, and c. */
const anyInverse = (): Law => ({
  side: "over",
  columns: (multiples, [exponent = 0]) => {
    const alpha = Math.exp(exponent);
    return [multiples.map((multiple) => alpha / powerMinusOne(multiple, alpha)), multiples.map(() => 1)];
  },
  axes: [logarithms(0.005, 10, 16)],
});

const logarithms = (low: number, high: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, i) => Math.log(low) + (Math.log(high / low) * i) / (count - 1));

/** Fits a candidate, or the constants of an inverse curve where none is given. */
export function fitCandidate(points: FitPoints, curve?: CurveName | Curve, ready?: ReadyCurve): Judged | NoCurveFit {
  const { levels, times, weights, known, freePickup } = points;
  const none = (reason: NoFit): NoCurveFit => ({ kind: "none", ...(curve && { curve }), reason });
  const unknowns = (ready ? 1 : 3) + (freePickup ? 1 : 0);
  if (new Set(levels).size < unknowns || (unknowns > 1 && levels.length <= unknowns)) return none("too-few-points");
  const { side, columns, axes } = ready ? lawOf(ready) : anyInverse();
  const over = side === "over";
  const nearest = over ? Math.min(...levels) : Math.max(...levels);
  const start = ready?.start ?? 1;
  if (freePickup ? nearest <= 0 : over ? nearest <= start : nearest >= start) return none("wrong-side");

  // The last value searched is ln(M − 1) of the point nearest to the pickup (of under functions ln(1/M − 1)), so that no
  // step can carry the pickup past a point.
  const pickupAt = (distance = 0) =>
    !freePickup ? 1 : over ? nearest / (1 + Math.exp(distance)) : nearest * (1 + Math.exp(distance));
  const timesAt = (searched: readonly number[]) => {
    const pickup = pickupAt(searched.at(-1));
    return columns(
      levels.map((level) => level / pickup),
      searched,
    );
  };
  const weighted = (values: readonly Seconds[]) => Float64Array.from(values, (x, i) => x * (weights[i] as number));
  const answer = solveSeparable({
    target: weighted(times),
    columns: (searched) => timesAt(searched).map(weighted),
    axes: freePickup ? [...axes, logarithms(1e-3, 100, 20)] : axes,
  });
  if (answer.kind === "none") return none(answer.reason);

  const { values, straight, covariance, sum, iterations } = answer;
  const searched = values.slice(straight);
  const degreesOfFreedom = times.length - values.length;
  const variance = known ? 1 : sum / degreesOfFreedom;
  /** The standard uncertainty of what has these slopes by the values at two places. */
  const u = (i: number, a: number, j = i, b = 0): number => {
    const at = (row: number, column: number) => covariance[row]?.[column] as number;
    return Math.sqrt(variance * (a * a * at(i, i) + 2 * a * b * at(i, j) + b * b * at(j, j)));
  };
  if (searched.some((_, j) => u(straight + j, 1) >= 1)) return none("undetermined");
  const [scale = 0, second = 0] = values;
  const c = straight > 1 ? second : 0;
  const alpha = Math.exp(searched[0] ?? 0);
  const k = scale * alpha;
  const last = values.length - 1;
  const distance = values[last] as number;
  const pickup = pickupAt(distance);
  // The slope of ln pickup by what is searched is (M − 1)/M of the nearest point.
  const uncertainties = {
    ...(ready ? { multiplier: u(0, 1) } : { k: u(0, alpha, straight, k), alpha: u(straight, alpha) }),
    ...(straight > 1 && { c: u(1, 1) }),
    ...(freePickup && { pickup: u(last, pickup / (1 + Math.exp(-distance))) }),
  };
  const parts = timesAt(searched);
  const residuals = times.map((time, i) =>
    parts.reduce((rest, part, l) => rest - (l < straight ? (values[l] as number) * (part[i] as number) : 0), time),
  );
  const squares = residuals.reduce((total, residual, i) => total + (residual / (times[i] as number)) ** 2, 0);
  return {
    sum,
    fit: {
      kind: "found",
      curve: curve ?? { form: "inverse", k, alpha, c },
      multiplier: ready ? scale : 1,
      ...(freePickup && { pickup }),
      ...(Number.isFinite(variance) && { uncertainties }),
      residuals,
      residualRms: Math.sqrt(squares / times.length),
      ...(known && { chiSquared: sum }),
      degreesOfFreedom,
      tiedWith: [],
      ...(iterations !== undefined && { iterations }),
    },
  };
}
