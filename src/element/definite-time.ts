import { object } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import { type CurveSetting, curveSide, operateTime, standardCurve } from "../curve/index.js";

/**
 * The time of a definite-time law, which is the same wherever the function operates:
 *
 *     t = max(multiplier · time, minimumTime) + addedTime
 *
 * @returns `undefined` for every other law: its time depends on the quantity.
 * @throws A {@link InputError} for what is no time law.
 * Accuracy: two roundings of doubles.
 * @source IEC 60255-151:2009 3.6 (definite time)
 *
 * @example
 * import { definiteTimeOf } from "tripwright/element";
 * definiteTimeOf({ curve: { form: "definite", time: 0.25 }, addedTime: 0.125 }); // → 0.375
 * definiteTimeOf({ curve: "iec-inverse" }); // → undefined
 */
export function definiteTimeOf(law: CurveSetting): Seconds | undefined {
  const { curve } = object(law, "law", "a time law");
  // Anywhere beyond its start, however far that is declared to lie.
  const multiple = curveSide(curve) === "over" ? Number.MAX_VALUE : 0;
  const { form } = typeof curve === "string" ? standardCurve(curve) : curve;
  return form === "definite" ? operateTime(law, multiple) : undefined;
}
