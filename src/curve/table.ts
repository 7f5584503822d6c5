/** Curves given by points. */
import { above, fail, object } from "../base/check.js";
import { InputError } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import type { TableCurve } from "./curve.js";

/** Two points or more, multiples rising, times falling or level. */
export function checkTable({ points }: TableCurve): void {
  if (!Array.isArray(points) || points.length < 2) fail("wrong-length", "curve.points", "two points or more", points);
  let [before, slowest] = [0, Number.POSITIVE_INFINITY];
  for (const [i, point] of points.entries()) {
    const path = `curve.points[${i}]`;
    const { multiple, time } = object(point, path, "a point");
    before = above(multiple, before, `${path}.multiple`, "a multiple");
    if (above(time, 0, `${path}.time`, "a time", "s") > slowest)
      fail("out-of-range", `${path}.time`, `a time up to ${slowest} s`, time);
    slowest = time;
  }
}

/** Straight on double-logarithmic axes, and exactly the point's time at a point. */
export function tableTime({ points }: TableCurve, multiple: number): Seconds {
  const next = points.findIndex((point) => point.multiple >= multiple);
  const [left, right] = [points[next - 1], points[next]];
  if (right?.multiple === multiple) return right.time;
  if (!left || !right)
    return fail(
      "out-of-range",
      "multiple",
      `a multiple from ${points[0]?.multiple} to ${points.at(-1)?.multiple}`,
      multiple,
    );
  return left.time * (right.time / left.time) ** logarithmicShare(multiple, [left.multiple, right.multiple]);
}

/** The time that a curve gives; outside a table what stands for it. Settings have been checked before. */
export function timeOr<T>(time: () => T, outside: () => T): T {
  try {
    return time();
  } catch (error) {
    if (error instanceof InputError) return outside();
    throw error;
  }
}

/** How far x lies from a to b in logarithms; the difference to a is exact near it, where the quotient would lose digits. */
export const logarithmicShare = (x: number, [a, b]: readonly [number, number]): number =>
  Math.log1p((x - a) / a) / Math.log1p((b - a) / a);
