/** Curves given by points. */
import { above, atLeast, fail } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import type { TableCurve } from "./curve.js";

/** Two points or more, multiples rising, times falling or level. */
export function checkTable({ points }: TableCurve): void {
  if (!Array.isArray(points) || points.length < 2) fail("wrong-length", "points", "two points or more", points);
  points.forEach(({ multiple, time }, i) => {
    within(`points[${i}]`, () => {
      above(multiple, points[i - 1]?.multiple ?? 0, "multiple", "a multiple");
      above(time, 0, "time", "a time", "s");
      const before = points[i - 1]?.time ?? time;
      if (time > before) atLeast(before, time, "time", "a time that falls from point to point, the one before", "s");
    });
  });
}

/** Straight on double-logarithmic axes, and exactly the point's time at a point. */
export function tableTime({ points }: TableCurve, multiple: number): Seconds {
  const next = points.findIndex((point) => point.multiple >= multiple);
  const right = points[next];
  const left = points[next - 1];
  if (right?.multiple === multiple) return right.time;
  if (right === undefined || left === undefined) {
    const [first, last] = [points[0]?.multiple, points.at(-1)?.multiple];
    return fail("out-of-range", "multiple", `a multiple within the table, from ${first} to ${last}`, multiple);
  }
  const share = Math.log(multiple / left.multiple) / Math.log(right.multiple / left.multiple);
  return left.time * (right.time / left.time) ** share;
}
