/** Regions of a plane in which a function operates. */
import { above, atLeast, fail, finite, nameIn, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Degrees } from "../base/units.js";

/** A point of a plane: resistance and reactance, restraint and operating current, or the two parts of a phasor. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** The disk around a center; the radius is above 0. */
export interface Circle {
  readonly form: "circle";
  readonly center: Point;
  readonly radius: number;
}

/** What a closed line of straight sides encloses; the last corner is joined to the first, and no two sides cross. */
export interface Polygon {
  readonly form: "polygon";
  readonly corners: readonly Point[];
}

/** What lies between two rays from the origin, counter-clockwise from the first to the second. */
export interface Sector {
  readonly form: "sector";
  readonly from: Degrees;
  readonly to: Degrees;
}

/**
 * What lies above a line that begins level at the left of its first point, goes from point to point and leaves the last
 * one with a slope. Points from left to right; two of one x make a step.
 */
export interface Above {
  readonly form: "above";
  readonly points: readonly Point[];
  readonly slope: number;
}

/** A region; what lies on its boundary belongs to it. */
export type Region = Circle | Polygon | Sector | Above;

const CHECKS: { readonly [F in Region["form"]]: (region: Extract<Region, { form: F }>) => void } = {
  circle: ({ center, radius }) => {
    checkPoint(center, "center");
    above(radius, 0, "radius", "a radius");
  },
  polygon: ({ corners }) => checkPoints(corners, "corners", 3),
  sector: ({ from, to }) => {
    finite(from, "from", "an angle in degrees");
    finite(to, "to", "an angle in degrees");
    if (!(to > from && to - from < 360)) fail("out-of-range", "to", `an angle above ${from}° by less than 360°`, to);
  },
  above: ({ points, slope }) => {
    checkPoints(points, "points", 1);
    atLeast(slope, 0, "slope", "a slope");
    for (const [i, { x }] of points.entries()) {
      const before = points[i - 1]?.x ?? x;
      if (x < before)
        fail("out-of-range", `points[${i}].x`, `a value of at least ${before}, that of the point before`, x);
    }
  },
};

/** Checks a region. */
export function checkRegion(region: Region): void {
  object(region, "region", 'a region such as { form: "circle", center, radius }');
  CHECKS[nameIn(region.form, CHECKS, "form")](region as never);
}

/** Checks a point. */
export function checkPoint(point: Point, path: string): void {
  within(path, () => {
    object(point, "", "a point { x, y }");
    finite(point.x, "x", "a number");
    finite(point.y, "y", "a number");
  });
}

function checkPoints(points: readonly Point[], path: string, least: number): void {
  if (!Array.isArray(points)) fail("wrong-type", path, "a list of points { x, y }", points);
  if (points.length < least) fail("wrong-length", path, `at least ${least} points`, points.length);
  for (const [i, point] of points.entries()) checkPoint(point, `${path}[${i}]`);
}
