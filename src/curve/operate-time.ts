import { above, atLeast, fail, options } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { readyCurve } from "./form.js";

const KEYS = ["curve", "multiplier", "startRatio", "ceilingMultiple", "minimumTime", "addedTime"];

/**
 * The operate time at a constant multiple of the setting.
 *
 *     over:  t = max(multiplier · (k/(min(M, ceilingMultiple)^alpha − 1) + c), minimumTime) + addedTime
 *     under: t = max(multiplier · (k/(1 − M^alpha) + c), minimumTime) + addedTime
 *
 * An over function never operates at or below where it starts, an under function at or above: the answer there is
 * `Infinity`. Where it starts is `startRatio` (default 1).
 *
 * @param setting - The curve and what the relay adds to it; times in seconds.
 * @param multiple - The quantity over its setting, 0 or more.
 * @returns Seconds; `Infinity` for never.
 * @throws A {@link InputError} for a multiple that is negative or not finite, for constants outside their domain and
 * for unknown keys.
 * Accuracy: within 4 units in the last place of the exact value at the given doubles, from M = 1 + 1e-12 to 100.
 * @source IEC 60255-151:2009 4.4.1 and Annex A; IEEE C37.112-2018; IEC 60255-127:2010 (voltage functions)
 *
 * @example
 * import { operateTime } from "tripwright/curve";
 * operateTime({ curve: "iec-very-inverse", multiplier: 0.2 }, 3); // → 1.35
 * operateTime({ curve: "iec-very-inverse" }, 1); // → Infinity
 * operateTime({ curve: "undervoltage-inverse" }, 0); // → 1
 */
export function operateTime(setting: CurveSetting, multiple: number): Seconds {
  const { curve, multiplier, startRatio, ceilingMultiple, minimumTime, addedTime } = checked(setting);
  atLeast(multiple, 0, "multiple", "a multiple of the setting");
  if (curve.side === "over" ? multiple <= startRatio : multiple >= startRatio) return Number.POSITIVE_INFINITY;
  const time = multiplier * curve.time(Math.min(multiple, ceilingMultiple));
  return Math.max(time, minimumTime) + addedTime;
}

function checked(setting: CurveSetting) {
  options(setting, KEYS);
  const { multiplier = 1, startRatio = 1, minimumTime = 0, addedTime = 0 } = setting;
  const curve = readyCurve(setting.curve);
  above(multiplier, 0, "multiplier", "a time multiplier");
  checkStart(startRatio, curve.side);
  atLeast(minimumTime, 0, "minimumTime", "a time", "s");
  atLeast(addedTime, 0, "addedTime", "a time", "s");
  return { curve, multiplier, startRatio, ceilingMultiple: ceilingOf(setting, curve.side), minimumTime, addedTime };
}

/** Below the setting an inverse equation has no positive time, so an over function cannot start there, nor an under function above. */
function checkStart(startRatio: number, side: "over" | "under"): void {
  if (side === "over") atLeast(startRatio, 1, "startRatio", "a ratio to the setting");
  else if (!(above(startRatio, 0, "startRatio", "a ratio to the setting") <= 1)) {
    fail("out-of-range", "startRatio", "a ratio to the setting above 0 and up to 1", startRatio);
  }
}

function ceilingOf({ ceilingMultiple, startRatio = 1 }: CurveSetting, side: "over" | "under"): number {
  if (ceilingMultiple === undefined) return Number.POSITIVE_INFINITY;
  if (side === "under")
    fail("not-applicable", "ceilingMultiple", "no ceiling: an under function has none", ceilingMultiple);
  return above(ceilingMultiple, startRatio, "ceilingMultiple", "a multiple of the setting");
}
