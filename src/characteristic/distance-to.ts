import { fail, finite } from "../base/check.js";
import { atan2Degrees, signedAngle } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import { distanceFrom, piecesOf } from "./boundary.js";
import { type Above, checkPoint, checkRegion, type Point, type Polygon, type Region, type Sector } from "./region.js";

/**
 * How deep a point lies in a region: the distance to its boundary, positive inside, 0 on it, negative outside.
 *
 * @returns In the unit of the plane.
 * @throws A {@link InputError} for a region or a point that is not good.
 * Accuracy: 1e-15 of the largest coordinate.
 * @source geometry
 *
 * @example
 * import { distanceTo, mho } from "tripwright/characteristic";
 * distanceTo(mho({ reach: 10, angle: 90 }), { x: 0, y: 4 }); // → 4
 * distanceTo(mho({ reach: 10, angle: 90 }), { x: 0, y: 12 }); // → -2
 */
export function distanceTo(region: Region, point: Point): number {
  checkRegion(region);
  checkPoint(point, "point");
  if (region.form === "circle") {
    const { center, radius } = region;
    return inRange(radius - Math.hypot(point.x - center.x, point.y - center.y));
  }
  const distance = Math.min(...piecesOf(region).map((piece) => distanceFrom(piece, point)));
  return inRange(isInside(region, point) ? distance : -distance);
}

const inRange = (distance: number): number => finite(distance, "point", "a place whose distance fits a double");

function isInside(region: Polygon | Sector | Above, point: Point): boolean {
  switch (region.form) {
    case "polygon":
      return isEnclosed(region, point);
    case "sector":
      return isBetween(region, atan2Degrees(point.y, point.x));
    case "above":
      return point.y >= heightAt(region, point.x);
  }
}

/** Whether a ray to the right crosses the boundary an odd number of times. */
function isEnclosed({ corners }: Polygon, { x, y }: Point): boolean {
  let inside = false;
  for (const [i, a] of corners.entries()) {
    const b = corners[(i + 1) % corners.length] as Point;
    if (a.y > y !== b.y > y && x < a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
  }
  return inside;
}

/** Whether a direction lies in a sector, its rays included. */
export const isBetween = ({ from, to }: Sector, angle: Degrees): boolean => {
  const ahead = signedAngle(angle - from);
  return (ahead < 0 ? ahead + 360 : ahead) <= to - from;
};

/**
 * How high the line below a region lies over a place; at a step its upper end.
 *
 * @param region - Such as that of `differentialRegion`, from which it is taken as it is.
 * @returns In the unit of the plane.
 * @throws A {@link InputError} for what is no region above a line, and a place that is no number.
 * Accuracy: 3 units in the last place.
 * @source geometry
 *
 * @example
 * import { differentialRegion, heightAt } from "tripwright/characteristic";
 * const region = differentialRegion({ pickup: 0.3, slopes: [{ slope: 0.25, line: "through-origin" }] });
 * [heightAt(region, 1), heightAt(region, 4)]; // → [0.3, 1]
 */
export function heightAt(region: Above, x: number): number {
  checkRegion(region);
  if (region.form !== "above") fail("wrong-type", "form", "above, a region above a line", (region as Region).form);
  finite(x, "x", "a place along the line");
  return finite(heightOver(x, region), "x", "a place whose height fits a double");
}

/** The same without a look at the region; Infinity where no double holds it. */
export function heightOver(x: number, { points, slope }: Above): number {
  const i = points.findLastIndex((point) => point.x <= x);
  if (i < 0) return (points[0] as Point).y;
  const [a, b] = [points[i] as Point, points[i + 1]];
  return b === undefined ? a.y + slope * (x - a.x) : a.y + ((b.y - a.y) / (b.x - a.x)) * (x - a.x);
}
