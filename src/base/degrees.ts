/**
 * Trigonometry in degrees, exact where the answer is: the sine of 30° is 0.5, the cosine of 90° is 0, the tangent of
 * 45° is 1. Elsewhere within 2 units in the last place, an angle from a point within 3.
 */
import type { Degrees } from "./units.js";

/** π/180 and 180/π in two parts, since the rounding of one part alone would cost a digit of the product. */
const RADIANS = [0.017453292519943295, 2.9486522708701687e-19] as const;
const DEGREES = [57.29577951308232, -1.9878495670576283e-15] as const;

const inRadians = (degrees: number): number => degrees * RADIANS[0] + degrees * RADIANS[1];
const inDegrees = (radians: number): number => radians * DEGREES[0] + radians * DEGREES[1];

/** The sine of an angle in degrees; never −0. */
export function sinDegrees(angle: Degrees): number {
  const turned = angle % 360;
  return (turned < 0 ? -sinPositive(-turned) : sinPositive(turned)) + 0;
}

/** The cosine of an angle in degrees; never −0. */
export function cosDegrees(angle: Degrees): number {
  const turned = Math.abs(angle % 360);
  if (turned > 180) return cosHalf(360 - turned);
  return cosHalf(turned);
}

/** Sine on [0, 360): folded onto the first quadrant, where every fold is exact in doubles. */
function sinPositive(a: number): number {
  if (a > 180) return -sinPositive(a - 180);
  const folded = a > 90 ? 180 - a : a;
  return folded <= 45 ? sinOctant(folded) : cosOctant(90 - folded);
}

/** Cosine on [0, 180]. */
function cosHalf(a: number): number {
  if (a > 90) return -cosHalf(180 - a) + 0;
  return a <= 45 ? cosOctant(a) : sinOctant(90 - a);
}

/** Sine on [0, 45]. */
function sinOctant(a: number): number {
  if (a === 45) return Math.SQRT1_2;
  return a === 30 ? 0.5 : Math.sin(inRadians(a));
}

/** Cosine on [0, 45]. */
function cosOctant(a: number): number {
  return a === 45 ? Math.SQRT1_2 : Math.cos(inRadians(a));
}

/**
 * The angle of the point (x, y) in degrees, on (−180, 180]; 0 for the origin; exact on the axes and the diagonals. It is
 * taken within the first octant, and unfolded by sums that are exact or round once.
 */
export function atan2Degrees(y: number, x: number): Degrees {
  const [across, up] = [Math.abs(x), Math.abs(y)];
  if (up === 0) return x < 0 ? 180 : 0;
  const octant = across === up ? 45 : inDegrees(Math.atan2(Math.min(across, up), Math.max(across, up)));
  const quadrant = up <= across ? octant : 90 - octant;
  const half = x < 0 ? 180 - quadrant : quadrant;
  // A hair above −180 may round to −180 itself, which belongs to the other end of the range.
  return (y < 0 && half < 180 ? -half : half) + 0;
}

/** The same direction on (−180, 180]; the remainder is exact. */
export function signedAngle(angle: Degrees): Degrees {
  const turned = angle % 360;
  return (turned > 180 ? turned - 360 : turned <= -180 ? turned + 360 : turned) + 0;
}
