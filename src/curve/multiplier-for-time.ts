import type { Answer } from "../base/answer.js";
import { above, atLeast, options } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { isSame, isStarted, readySetting, travelTime } from "./ready.js";

/** One point that a curve must go through. */
export interface WantedPoint {
  readonly multiple: number;
  /** The operate time, everything included that the setting adds. */
  readonly time: Seconds;
}

/**
 * Why no multiplier leads a curve through a point.
 *
 * - `not-operating`: the function does not operate at that multiple
 * - `too-fast`: what the setting adds takes longer already
 * - `below-minimum-time`: the floor keeps it slower
 * - `any-multiplier`: the curve has no time to scale
 */
export type NoMultiplier = "not-operating" | "too-fast" | "below-minimum-time" | "any-multiplier";

/**
 * The time multiplier with which a function operates in a given time at a given multiple; the setting's own multiplier
 * does not matter.
 *
 *     multiplier = (t − addedTime) / f(min(M, ceilingMultiple))
 *
 * Where t is the floor, minimumTime + addedTime, many multipliers give it; the answer is the largest of them.
 *
 * @returns The multiplier, or the reason why there is none: see {@link NoMultiplier}.
 * @throws A {@link InputError} for a time that is not above 0 s, a negative multiple, a setting that is not good.
 * Accuracy: within 5 units in the last place.
 * @source the equation of IEC 60255-151:2009 4.4.1, solved
 *
 * @example
 * import { multiplierForTime } from "tripwright/curve";
 * multiplierForTime({ curve: "iec-very-inverse" }, { multiple: 3, time: 1.35 }); // → { kind: "found", multiplier: 0.2 }
 * multiplierForTime({ curve: "iec-very-inverse" }, { multiple: 1, time: 1.35 }); // → { kind: "none", reason: "not-operating" }
 */
export function multiplierForTime(
  setting: CurveSetting,
  point: WantedPoint,
): Answer<{ multiplier: number }, NoMultiplier> {
  const { multiple, time } = options(point, ["multiple", "time"]);
  const ready = readySetting({ ...setting, multiplier: 1 });
  atLeast(multiple, 0, "multiple", "a multiple of the setting");
  const { addedTime, minimumTime } = ready;
  const own = above(time, 0, "time", "an operate time", "s") - addedTime;
  if (!isStarted(ready, multiple)) return { kind: "none", reason: "not-operating" };
  const full = travelTime(ready, multiple);
  const atFloor = isSame(own, minimumTime, time);
  if (!(own > 0 || (atFloor && full === 0))) return { kind: "none", reason: "too-fast" };
  if (own < minimumTime && !atFloor) return { kind: "none", reason: "below-minimum-time" };
  const multiplier = Math.max(own, minimumTime) / full;
  if (!(multiplier > 0) || !Number.isFinite(multiplier)) return { kind: "none", reason: "any-multiplier" };
  return { kind: "found", multiplier };
}
