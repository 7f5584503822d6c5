import { finite, options } from "../base/check.js";
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import { direction, meeting, piecesOf } from "./boundary.js";
import { type Circle, checkPoint, checkRegion, type Point, type Region } from "./region.js";

/** A ray from a point. */
export interface Ray {
  /** Default: the origin. */
  readonly from?: Point;
  /** Counter-clockwise from the x axis. */
  readonly angle: Degrees;
}

/**
 * How far along a ray the boundary of a region lies: every place at which the ray crosses or touches it, from its beginning on.
 *
 *     circle of center c and radius r:  t = u·(c − p) ± √(r² − |c − p|² + (u·(c − p))²)
 *
 * @returns Distances from the beginning of the ray, ascending, in the unit of the plane; none where it meets nothing. A
 * boundary that passes through the beginning gives 0.
 * @throws A {@link InputError} for a region or a ray that is not good.
 * Accuracy: each place lies on the boundary within 1e-12 of the largest coordinate.
 * @source geometry
 *
 * @example
 * import { boundaryAlong, mho } from "tripwright/characteristic";
 * boundaryAlong(mho({ reach: 10, angle: 75 }), { angle: 45 }); // → [0, 8.660254037844386]
 */
export function boundaryAlong(region: Region, ray: Ray): readonly number[] {
  checkRegion(region);
  const { from = { x: 0, y: 0 }, angle } = options(ray, ["from", "angle"]);
  checkPoint(from, "from");
  finite(angle, "angle", "an angle in degrees");
  if (region.form === "circle") return onCircle(region, from, angle);
  const along = direction(angle);
  const met = piecesOf(region).flatMap((piece) => meeting(piece, { from, along }).map((t) => t + 0));
  return apart(met.sort((a, b) => a - b));
}

/** A corner is met with both of its sides. */
const apart = (distances: readonly number[]): number[] =>
  distances.filter((distance, i) => i === 0 || distance - (distances[i - 1] as number) > 1e-12 * distance);

function onCircle({ center, radius }: Circle, from: Point, angle: Degrees): number[] {
  const [dx, dy] = [center.x - from.x, center.y - from.y];
  const ahead = dx * cosDegrees(angle) + dy * sinDegrees(angle);
  const aside = dx * sinDegrees(angle) - dy * cosDegrees(angle);
  const half = (radius - Math.abs(aside)) * (radius + Math.abs(aside));
  if (half < 0) return [];
  const [near, far] = [ahead - Math.sqrt(half), ahead + Math.sqrt(half)];
  finite(far - near, "region", "a circle whose size fits a double");
  // A circle through the beginning of the ray is a self-polarised mho: that end is 0, not its rounding.
  const size = Math.abs(ahead) + radius;
  const settled = [near, far].map((t) => (Math.abs(t) <= 1e-14 * size ? 0 : t));
  return [...new Set(settled)].filter((t) => t >= 0);
}
