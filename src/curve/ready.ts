/** The one place where a setting is read: what starts a function, what its ceiling does to the rate, what comes last. */
import { above, atLeast, fail, options } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { type ReadyCurve, readyCurve } from "./form.js";

const KEYS = [
  "curve",
  "multiplier",
  "startRatio",
  "ceilingMultiple",
  "minimumTime",
  "addedTime",
  "reset",
  "dropoutRatio",
];

/** A setting that the generic functions can use: checked, defaults filled in. */
export interface ReadySetting extends ReadyCurve {
  readonly multiplier: number;
  readonly startRatio: number;
  readonly ceilingMultiple: number;
  readonly minimumTime: Seconds;
  readonly addedTime: Seconds;
}

/** Checks a setting and fills in its defaults. */
export function readySetting(setting: CurveSetting): ReadySetting {
  options(setting, KEYS);
  const curve = readyCurve(setting.curve);
  const { multiplier = 1, startRatio = curve.start, minimumTime = 0, addedTime = 0 } = setting;
  above(multiplier, 0, "multiplier", "a time multiplier");
  checkStart(startRatio, curve);
  atLeast(minimumTime, 0, "minimumTime", "a time", "s");
  atLeast(addedTime, 0, "addedTime", "a time", "s");
  const ceilingMultiple = ceilingOf(setting.ceilingMultiple, startRatio, curve.side);
  return { ...curve, multiplier, startRatio, ceilingMultiple, minimumTime, addedTime };
}

/** On the far side of its start a bound equation has no positive time, so that no setting can start it there. */
function checkStart(startRatio: number, { side, bound, start }: ReadyCurve): void {
  const what = "a multiple of the setting";
  atLeast(startRatio, bound && side === "over" ? 1 : 0, "startRatio", what);
  if (start) above(startRatio, 0, "startRatio", what);
  if (bound && side === "under" && startRatio > 1) fail("out-of-range", "startRatio", `${what} up to 1`, startRatio);
}

function ceilingOf(ceiling: number | undefined, startRatio: number, side: "over" | "under"): number {
  if (ceiling === undefined) return Number.POSITIVE_INFINITY;
  if (side === "under") fail("not-applicable", "ceilingMultiple", "none on an under function", ceiling);
  return above(ceiling, startRatio, "ceilingMultiple", "a multiple of the setting");
}

/** Whether the function is started: an over function above its start, an under function below. */
export const isStarted = ({ side, startRatio }: ReadySetting, multiple: number): boolean =>
  side === "over" ? multiple > startRatio : multiple < startRatio;

/** Whether two times are one, but for the rounding of what makes up a time of `seconds`. */
export const isSame = (a: Seconds, b: Seconds, seconds: Seconds): boolean =>
  Math.abs(a - b) <= 4 * Number.EPSILON * seconds;

/** The time for full travel at a multiple beyond the start: the ceiling clamps the rate, the multiplier scales it. */
export const travelTime = (
  { multiplier, ceilingMultiple, time }: ReadySetting,
  multiple: number,
  preload?: number,
): Seconds => multiplier * time(Math.min(multiple, ceilingMultiple), preload);

/** The operate time at a constant multiple, everything included that the setting adds; `Infinity` for never. */
export const timeAt = (ready: ReadySetting, multiple: number, preload?: number): Seconds =>
  isStarted(ready, multiple)
    ? Math.max(travelTime(ready, multiple, preload), ready.minimumTime) + ready.addedTime
    : Number.POSITIVE_INFINITY;
