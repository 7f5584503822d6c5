/** The straight pieces of which boundaries are made. */
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import type { Above, Point, Polygon, Sector } from "./region.js";

/** A straight piece from a point along a direction of length 1: as long as it is, or without an end. */
export interface Piece {
  readonly from: Point;
  readonly along: Point;
  readonly length: number;
}

/** The direction of an angle, counter-clockwise from the x axis. */
export const direction = (angle: Degrees): Point => ({ x: cosDegrees(angle), y: sinDegrees(angle) });

const ORIGIN: Point = { x: 0, y: 0 };

/** The boundary of a region without curves. */
export function piecesOf(region: Polygon | Sector | Above): Piece[] {
  switch (region.form) {
    case "polygon":
      return sides([...region.corners, region.corners[0] as Point]);
    case "sector":
      return [region.from, region.to].map((angle) => ({ from: ORIGIN, along: direction(angle), length: Infinity }));
    case "above":
      return [
        { from: region.points[0] as Point, along: { x: -1, y: 0 }, length: Infinity },
        ...sides(region.points),
        { from: region.points.at(-1) as Point, along: unit({ x: 1, y: region.slope }), length: Infinity },
      ];
  }
}

const unit = ({ x, y }: Point): Point => {
  const length = Math.hypot(x, y);
  return { x: x / length, y: y / length };
};

/** The sides between points; two points at one place have none. */
function sides(points: readonly Point[]): Piece[] {
  return points.slice(1).flatMap((to, i) => {
    const from = points[i] as Point;
    const way = { x: to.x - from.x, y: to.y - from.y };
    const length = Math.hypot(way.x, way.y);
    return length === 0 ? [] : [{ from, along: { x: way.x / length, y: way.y / length }, length }];
  });
}

/** How far a point lies from a piece. */
export function distanceFrom({ from, along, length }: Piece, { x, y }: Point): number {
  const [dx, dy] = [x - from.x, y - from.y];
  const ahead = dx * along.x + dy * along.y;
  if (ahead <= 0) return Math.hypot(dx, dy);
  if (ahead >= length) return Math.hypot(dx - length * along.x, dy - length * along.y);
  return Math.abs(dx * along.y - dy * along.x);
}

/** How far along a ray it meets a piece; nothing where it does not, or runs along it. */
export function meeting(
  { from, along, length }: Piece,
  ray: { readonly from: Point; readonly along: Point },
): number[] {
  const across = ray.along.x * along.y - ray.along.y * along.x;
  if (across === 0) return [];
  const [dx, dy] = [from.x - ray.from.x, from.y - ray.from.y];
  const onRay = (dx * along.y - dy * along.x) / across;
  const onPiece = (dx * ray.along.y - dy * ray.along.x) / across;
  // A corner belongs to both of its sides; the rounding of a quotient must not lose it between them.
  const hair = 1e-12 * Math.max(Math.abs(dx), Math.abs(dy), Number.isFinite(length) ? length : 0);
  return onRay >= 0 && onPiece >= -hair && onPiece <= length + hair ? [onRay] : [];
}
