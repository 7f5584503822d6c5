import type { Answer } from "../base/answer.js";
import { above } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { Curve, CurveSetting, TableCurve } from "./curve.js";
import type { CurveOf } from "./form.js";
import { kinksOf } from "./kinks.js";
import { isSame, isStarted, readySetting, travelTime } from "./ready.js";
import { logarithmicShare } from "./table.js";

/**
 * Why no multiple has a wanted time.
 *
 * - `too-fast`: the curve is never that fast, however large the multiple (at or below multiplier · c and what is added)
 * - `below-minimum-time`: the floor keeps it slower
 * - `beyond-ceiling`: the curve goes flat before it is that fast
 * - `too-slow`: it does not start where it would be that slow
 * - `any-multiple`: every multiple beyond the start has this time: a definite time, a floor above the whole curve
 */
export type NoMultiple = "too-fast" | "below-minimum-time" | "beyond-ceiling" | "too-slow" | "any-multiple";

type Inverse<C extends Curve> = (curve: C, time: Seconds) => number;

/** Each form's equation solved for the multiple, multiplier 1; a definite time is level everywhere, and never asked. */
const MULTIPLES: { readonly [F in Exclude<Curve["form"], "definite">]: Inverse<CurveOf<F>> } = {
  inverse: ({ k, alpha, c }, time) => rooted(k / Math.max(0, time - c), alpha),
  under: ({ k, alpha, c }, time) => Math.max(0, (time - c - k) / (time - c)) ** (1 / alpha),
  excess: ({ k, power }, time) => 1 + (k / time) ** (1 / power),
  energy: ({ k }, time) => Math.sqrt(k) / Math.sqrt(time),
  thermal: ({ tau }, time) => 1 / Math.sqrt(-Math.expm1(-time / tau)),
  table: multipleInTable,
};

/** (1 + x)^(1/alpha), without losing the digits of a small x. */
function rooted(x: number, alpha: number): number {
  if (alpha === 1) return 1 + x;
  return alpha === 2 ? Math.sqrt(1 + x) : Math.exp(Math.log1p(x) / alpha);
}

/** Between two of its points; beyond the last one nothing holds it. */
function multipleInTable({ points }: TableCurve, time: Seconds): number {
  const next = points.findIndex((point) => point.time <= time);
  const [left, right] = [points[next - 1], points[next]];
  if (!left || !right) return right ? 0 : Number.POSITIVE_INFINITY;
  return left.multiple * (right.multiple / left.multiple) ** logarithmicShare(time, [left.time, right.time]);
}

/**
 * The multiple at which a function operates in a given time: {@link operateTime} solved for the multiple, in closed form.
 *
 *     inverse: M = (1 + k/(t/multiplier − c))^(1/alpha)
 *
 * A thermal curve is taken cold. Where several multiples have the time (on a level stretch, at the floor), the one
 * nearest to the start is meant; on a stretch that is level from the start on, where it ends.
 *
 * @param seconds - The operate time, above 0 s, everything included that the setting adds.
 * @returns The multiple, or the reason why none has this time: see {@link NoMultiple}.
 * @throws A {@link InputError} for a time that is not above 0 s and for a setting that is not good.
 * Accuracy: 1e-14 relative, times 1/alpha, to a multiple that has the time to 8 units in the last place; a curve that is
 * flat (an under function near M = 0, any near its c) has many. A time that {@link operateTime} gives up to M = 100 has its
 * multiple.
 * @source the equations of IEC 60255-151:2009 4.4.1 and IEC 60255-127:2010 4.4.1, solved
 *
 * @example
 * import { multipleForTime } from "tripwright/curve";
 * multipleForTime({ curve: "iec-very-inverse", multiplier: 0.2 }, 1.35); // → { kind: "found", multiple: 3 }
 * multipleForTime({ curve: "ieee-very-inverse" }, 0.4); // → { kind: "none", reason: "too-fast" }
 */
export function multipleForTime(setting: CurveSetting, seconds: Seconds): Answer<{ multiple: number }, NoMultiple> {
  const ready = readySetting(setting);
  const { addedTime, ceilingMultiple, curve, minimumTime, multiplier, side, startRatio } = ready;
  const time = above(seconds, 0, "seconds", "an operate time", "s") - addedTime;
  const isIt = (other: Seconds): boolean => isSame(time, other, seconds);
  const timeAt = (multiple: number): Seconds => Math.max(travelTime(ready, multiple), minimumTime);
  const none = (reason: NoMultiple) => ({ kind: "none", reason }) as const;

  // Between which multiples the function has a time: from its start on, and within the points of a table.
  const kinks = kinksOf(curve);
  const [first, last] =
    curve.form === "table" ? [kinks[0] as number, kinks.at(-1) as number] : [0, Number.POSITIVE_INFINITY];
  const end = side === "over" ? last : 0;
  const [from, to] = [Math.min(Math.max(startRatio, first), last), Math.min(end, ceilingMultiple)];
  const [slowest, fastest] = [timeAt(from), timeAt(to)];
  if (time < fastest && !isIt(fastest)) {
    if (time > 0 && time < minimumTime) return none("below-minimum-time");
    const unlimited = travelTime({ ...ready, ceilingMultiple: end }, end);
    return none(time > unlimited ? "beyond-ceiling" : "too-fast");
  }
  if ((time > slowest && !isIt(slowest)) || !isStarted(ready, to)) return none("too-slow");
  if (slowest === fastest) return none("any-multiple");

  const corner = kinks
    .map((kink) => Math.min(kink, to))
    .find((kink) => isStarted(ready, kink) && isIt(travelTime(ready, kink)));
  if (corner !== undefined) return { kind: "found", multiple: corner };
  const solve = MULTIPLES[curve.form as keyof typeof MULTIPLES] as Inverse<Curve>;
  const solved = solve(curve, time / multiplier);
  const multiple = side === "over" ? Math.min(solved, to) : solved;
  if (!Number.isFinite(multiple)) return none("too-fast");
  if (isStarted(ready, multiple)) return { kind: "found", multiple };
  // Right at the start rounding may not keep it there.
  const beside = Math.min(startRatio * (side === "over" ? 1 + Number.EPSILON : 1 - Number.EPSILON), Math.max(from, to));
  return isIt(timeAt(beside)) ? { kind: "found", multiple: beside } : none("too-slow");
}
