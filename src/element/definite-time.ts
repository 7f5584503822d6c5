import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "../curve/index.js";

/**
 * The time of a definite-time law, which is the same wherever the function operates:
 *
 *     t = max(multiplier · time, minimumTime) + addedTime
 *
 * @returns `undefined` for every other law: its time depends on the quantity.
 * Accuracy: two roundings of doubles.
 * @source IEC 60255-151:2009 3.6 (definite time)
 *
 * @example
 * import { definiteTimeOf } from "tripwright/element";
 * definiteTimeOf({ curve: { form: "definite", time: 0.25 }, addedTime: 0.125 }); // → 0.375
 * definiteTimeOf({ curve: "iec-inverse" }); // → undefined
 */
export function definiteTimeOf(law: CurveSetting): Seconds | undefined {
  const { curve, multiplier = 1, minimumTime = 0, addedTime = 0 } = law;
  if (typeof curve === "string" || curve.form !== "definite") return undefined;
  return Math.max(multiplier * curve.time, minimumTime) + addedTime;
}
