/** What the tests of fits share: points on a curve, and fits that must be there. */
import {
  type CurveFit,
  type CurveName,
  curveNames,
  curveSide,
  type FitOptions,
  fitCurve,
  operateTime,
  type TimedInjection,
} from "tripwright/curve";

/** The candidates where none are named. */
export const overNames: readonly CurveName[] = curveNames.filter((name) => curveSide(name) === "over");

/** Curves that differ in their multiplier only: k/(M − 1). */
export const sameShape: readonly CurveName[] = ["iec-very-inverse", "long-time-inverse", "overvoltage-inverse"];

/** Points on a curve at multiples of the setting. */
export const onCurve = (curve: CurveName, multiplier: number, multiples: readonly number[]) =>
  multiples.map((multiple) => ({ multiple, time: operateTime({ curve, multiplier }, multiple) }));

/** The same points, seen as levels of an element with this pickup. */
export const asLevels = (points: readonly { multiple: number; time: number }[], pickup: number) =>
  points.map(({ multiple, time }) => ({ level: multiple * pickup, time }));

/** Everything that fits, in order. */
export const fitsOf = (points: readonly TimedInjection[], options?: FitOptions): readonly CurveFit[] =>
  fitCurve(points, options).filter((fit) => fit.kind === "found");

/** The best fit; none at all fails the test. */
export function bestOf(points: readonly TimedInjection[], options?: FitOptions): CurveFit {
  const [best] = fitCurve(points, options);
  if (best?.kind !== "found") throw new Error(best?.reason ?? "no candidate");
  return best;
}

/** How far a value lies from another, relative to it. */
export const off = (actual: number | undefined, expected: number): number =>
  Math.abs((actual ?? Number.NaN) / expected - 1);
