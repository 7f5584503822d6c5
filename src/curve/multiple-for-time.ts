import type { Answer } from "../base/answer.js";
import { above } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { Curve, CurveSetting, TableCurve } from "./curve.js";
import type { CurveOf } from "./form.js";
import { isStarted, type ReadySetting, readySetting, travelTime } from "./ready.js";
import { logarithmicShare } from "./table.js";

/**
 * Why no multiple has a wanted time.
 *
 * - `too-fast`: the curve is never that fast, however large the multiple (at or below multiplier · c and what is added)
 * - `below-minimum-time`: the floor keeps it slower
 * - `beyond-ceiling`: the curve goes flat before it is that fast
 * - `too-slow`: it does not start where it would be that slow
 * - `any-multiple`: the time does not depend on the multiple
 */
export type NoMultiple = "too-fast" | "below-minimum-time" | "beyond-ceiling" | "too-slow" | "any-multiple";

type Inverse<C extends Curve> = (curve: C, time: Seconds) => number | NoMultiple;

/** Each form's equation solved for the multiple, multiplier 1. */
const MULTIPLES: { readonly [F in Curve["form"]]: Inverse<CurveOf<F>> } = {
  inverse: ({ k, alpha, c }, time) => (time > c ? rooted(k / (time - c), alpha) : "too-fast"),
  under: ({ k, alpha, c }, time) => (time >= k + c ? rooted(-k / (time - c), alpha) : "too-fast"),
  definite: ({ time: only }, time) => (time === only ? "any-multiple" : time > only ? "too-slow" : "too-fast"),
  excess: ({ k, power }, time) => 1 + (k / time) ** (1 / power),
  energy: ({ k, maximumTime }, time) => (time > (maximumTime ?? time) ? "too-slow" : Math.sqrt(k / time)),
  thermal: ({ tau }, time) => 1 / Math.sqrt(-Math.expm1(-time / tau)),
  table: multipleInTable,
};

/** (1 + x)^(1/alpha), without losing the digits of a small x. */
function rooted(x: number, alpha: number): number {
  if (alpha === 1) return 1 + x;
  return alpha === 2 ? Math.sqrt(1 + x) : Math.exp(Math.log1p(x) / alpha);
}

/** On a level stretch of the table the smallest multiple. */
function multipleInTable({ points }: TableCurve, time: Seconds): number | NoMultiple {
  const next = points.findIndex((point) => point.time <= time);
  const [left, right] = [points[next - 1], points[next]];
  if (right?.time === time) return right.multiple;
  if (right === undefined) return "too-fast";
  if (left === undefined) return "too-slow";
  return left.multiple * (right.multiple / left.multiple) ** logarithmicShare(time, [left.time, right.time]);
}

/**
 * The multiple at which a function operates in a given time: {@link operateTime} solved for the multiple, in closed form.
 *
 *     inverse: M = (1 + k/(t/multiplier − c))^(1/alpha)
 *
 * A thermal curve is taken cold. Where several multiples have the time (on a level stretch, at the floor), the one
 * nearest to the start is meant.
 *
 * @param seconds - The operate time, above 0 s, everything included that the setting adds.
 * @returns The multiple, or the reason why none has this time: see {@link NoMultiple}.
 * @throws A {@link InputError} for a time that is not above 0 s and for a setting that is not good.
 * Accuracy: 1e-14 relative, times 1/alpha.
 * @source the equations of IEC 60255-151:2009 4.4.1 and IEC 60255-127:2010 4.4.1, solved
 *
 * @example
 * import { multipleForTime } from "tripwright/curve";
 * multipleForTime({ curve: "iec-very-inverse", multiplier: 0.2 }, 1.35); // → { kind: "found", multiple: 3 }
 * multipleForTime({ curve: "ieee-very-inverse" }, 0.4); // → { kind: "none", reason: "too-fast" }
 */
export function multipleForTime(setting: CurveSetting, seconds: Seconds): Answer<{ multiple: number }, NoMultiple> {
  const ready = readySetting(setting);
  const { multiplier, minimumTime, addedTime, curve } = ready;
  const time = above(seconds, 0, "seconds", "an operate time", "s") - addedTime;
  if (!(time > 0)) return { kind: "none", reason: "too-fast" };
  if (time < minimumTime) return { kind: "none", reason: "below-minimum-time" };
  const solve = MULTIPLES[curve.form] as Inverse<Curve>;
  const multiple = solve(curve, time / multiplier);
  if (typeof multiple === "string") return { kind: "none", reason: multiple };
  return within(ready, multiple, time);
}

/** The solution, unless it lies where the setting does not let the curve go. */
function within(ready: ReadySetting, multiple: number, time: Seconds): Answer<{ multiple: number }, NoMultiple> {
  const { ceilingMultiple, side } = ready;
  if (!Number.isFinite(multiple)) return { kind: "none", reason: "too-fast" };
  if (multiple > ceilingMultiple) {
    // Rounding must not put the time at the ceiling itself beyond it.
    const atCeiling = time >= travelTime(ready, ceilingMultiple) * (1 - 4 * Number.EPSILON);
    return atCeiling ? { kind: "found", multiple: ceilingMultiple } : { kind: "none", reason: "beyond-ceiling" };
  }
  if (side === "under" && multiple < 0) return { kind: "none", reason: "too-fast" };
  return isStarted(ready, multiple) ? { kind: "found", multiple } : { kind: "none", reason: "too-slow" };
}
