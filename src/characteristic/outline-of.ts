import { above, finite, options, whole } from "../base/check.js";
import { direction } from "./boundary.js";
import { heightOver } from "./distance-to.js";
import { checkRegion, type Point, type Region } from "./region.js";

/** How an outline is drawn. */
export interface OutlineOptions {
  /** Points around a circle, from 3 to 3600. Default 72: one for each 5°. */
  readonly count?: number;
  /** How far boundaries without an end are drawn, in the unit of the plane. Default: twice the farthest corner, or 1. */
  readonly extent?: number;
}

/**
 * The boundary of a region as points to be joined by straight lines, for a figure. Circles and polygons come closed, with
 * their first point again at the end; a sector as ray, origin, ray; what lies above a line as that line, from x = 0 (or
 * further left, where its points begin there) to the extent.
 *
 * @throws A {@link InputError} for a region that is not good, a count that is no whole number from 3 to 3600, and an extent
 * that is not above 0, and an outline that no double holds.
 * Accuracy: each point lies on the boundary within 1e-15 of the largest coordinate.
 * @source geometry
 *
 * @example
 * import { mho, outlineOf } from "tripwright/characteristic";
 * outlineOf(mho({ reach: 2, angle: 0 }), { count: 4 }); // → [{ x: 2, y: 0 }, { x: 1, y: 1 }, { x: 0, y: 0 }, { x: 1, y: -1 }, { x: 2, y: 0 }]
 */
export function outlineOf(region: Region, how: OutlineOptions = {}): readonly Point[] {
  checkRegion(region);
  const { count = 72, extent = defaultExtent(region) } = options(how, ["count", "extent"]);
  whole(count, [3, 3600], "count", "points around a circle");
  above(extent, 0, "extent", "how far it is drawn");
  const points = outline(region, count, extent);
  for (const { x, y } of points) finite(x + y, "region", "a region whose outline fits a double");
  return points;
}

function outline(region: Region, count: number, extent: number): readonly Point[] {
  switch (region.form) {
    case "circle": {
      const { center, radius } = region;
      return Array.from({ length: count + 1 }, (_, i) => {
        const { x, y } = direction(((i % count) * 360) / count);
        return { x: center.x + radius * x, y: center.y + radius * y };
      });
    }
    case "polygon":
      return [...region.corners, region.corners[0] as Point];
    case "sector":
      return [far(region.from, extent), { x: 0, y: 0 }, far(region.to, extent)];
    case "above": {
      const first = region.points[0] as Point;
      const begin = first.x > 0 ? [{ x: 0, y: first.y }] : [];
      const end = region.points.filter(({ x }) => x <= extent);
      return [...begin, ...end, { x: extent, y: heightOver(extent, region) }];
    }
  }
}

const far = (angle: number, extent: number): Point => {
  const { x, y } = direction(angle);
  return { x: extent * x, y: extent * y };
};

function defaultExtent(region: Region): number {
  if (region.form !== "above") return 1;
  return 2 * Math.max(...region.points.map(({ x }) => Math.abs(x))) || 1;
}
