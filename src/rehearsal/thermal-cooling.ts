import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "../curve/index.js";

/**
 * How long a thermal image takes at a multiple until it has cooled to the level at which its contact lets go: t =
 * multiplier · coolingTau · ln((level − M²)/(release − M²)); 0 for laws without an image, and where it has cooled so far already.
 */
export function coolingLeft({ curve, multiplier = 1, reset }: CurveSetting, level: number, multiple: number): Seconds {
  if (typeof curve !== "object" || curve.form !== "thermal" || reset?.form !== "cooling") return 0;
  const target = multiple * multiple;
  if (level <= reset.release) return 0;
  if (target >= reset.release) return Number.POSITIVE_INFINITY;
  const { tau, coolingTau = tau } = curve;
  return multiplier * coolingTau * Math.log1p((level - reset.release) / (reset.release - target));
}
