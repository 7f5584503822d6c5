import { atLeast, fail, options } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { readySetting, timeAt } from "./ready.js";

/** What went before. */
export interface History {
  /**
   * The load that a thermal curve has carried long enough to be in balance with it, as a multiple of the basic current:
   * 0 or more, below 1. Default 0, which is cold.
   */
  readonly preload?: number;
}

/**
 * The operate time at a constant multiple of the setting.
 *
 *     t = max(multiplier · f(min(M, ceilingMultiple)), minimumTime) + addedTime
 *
 *     inverse: f = k/(M^alpha − 1) + c        under:  f = k/(1 − M^alpha) + c
 *     excess:  f = k/(M − 1)^power            energy: f = min(k/M², maximumTime)
 *     thermal: f = tau · ln((M² − p²)/(M² − 1)), p = preload
 *     table:   between its points, straight on double-logarithmic axes
 *
 * An over function never operates at or below where it starts, an under function at or above: the answer there is
 * `Infinity`. It starts at `startRatio`; without one at 1, an energy or table curve at 0.
 *
 * @param setting - The curve and what the relay adds to it; times in seconds.
 * @param multiple - The quantity over its setting, 0 or more.
 * @returns Seconds; `Infinity` for never.
 * @throws A {@link InputError} for a multiple that is negative or not finite, or outside a table; for constants outside
 * their domain, a preload on a curve without memory, and unknown keys.
 * Accuracy: within 4 units in the last place of the exact value at the given doubles, from M = 1 + 1e-12 to 100;
 * thermal curves within 6; between two points of a table 1e-15 relative, and as much again for each factor of e between
 * their times.
 * @source IEC 60255-151:2009 4.4.1 and Annex A; IEEE C37.112-2018; IEC 60255-127:2010 (voltage functions);
 * IEC 60255-149:2013 (thermal)
 *
 * @example
 * import { operateTime } from "tripwright/curve";
 * operateTime({ curve: "iec-very-inverse", multiplier: 0.2 }, 3); // → 1.35
 * operateTime({ curve: "iec-very-inverse" }, 1); // → Infinity
 * operateTime({ curve: "undervoltage-inverse" }, 0); // → 1
 * operateTime({ curve: { form: "thermal", tau: 600 } }, 2, { preload: 0.8 }).toFixed(2); // → "68.00"
 */
export function operateTime(setting: CurveSetting, multiple: number, history: History = {}): Seconds {
  const ready = readySetting(setting);
  const { preload } = options(history, ["preload"]);
  if (preload !== undefined && ready.curve.form !== "thermal")
    fail("not-applicable", "preload", "none but on a thermal curve", preload);
  if (atLeast(preload ?? 0, 0, "preload", "a multiple of the setting") >= 1)
    fail("out-of-range", "preload", "a multiple of the setting below 1", preload);
  atLeast(multiple, 0, "multiple", "a multiple of the setting");
  return timeAt(ready, multiple, preload);
}
