/** How far out an impedance lies in a distance zone, as a share of the way to the boundary. */
import { finite, object } from "../base/check.js";
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import type { Phasor } from "../phasor/index.js";
import { type Mho, mho, type Quadrilateral, quadrilateral } from "./distance-zones.js";

/**
 * How far out an impedance lies in a mho zone: its distance from the origin over that of the boundary along the same angle.
 * A zone that is larger by this factor has the impedance on its boundary.
 *
 *     |z|² / (z·c + √((z·c)² + (r² − |c|²)·|z|²)),  c = center, r = radius, r² − |c|² = reach · reverse
 *
 * @returns 0 at the origin, below 1 inside, 1 on the boundary, above 1 outside; `Infinity` where a zone through the origin
 * is not met along the angle.
 * @throws A {@link InputError} for what is no zone, and for an impedance that is none.
 * Accuracy: 1e-14 of the share, where the boundary is met at an angle of 6° or more.
 * @source geometry
 *
 * @example
 * import { mhoShare } from "tripwright/characteristic";
 * mhoShare({ reach: 4, angle: 90 }, { re: 0, im: 3 }); // → 0.75
 * mhoShare({ reach: 4, angle: 90 }, { re: 0, im: -3 }); // → Infinity
 */
export function mhoShare(zone: Mho, impedance: Phasor): number {
  mho(zone);
  const { reach, angle, reverse = 0 } = zone;
  const [z, size] = scaled(impedance);
  if (size === 0) return 0;
  const ahead = ((z.re * cosDegrees(angle) + z.im * sinDegrees(angle)) * (reach - reverse)) / 2;
  const square = z.re * z.re + z.im * z.im;
  const far = reach * reverse;
  const root = Math.sqrt(ahead * ahead + far * square);
  // Of the two forms of one quotient that which does not subtract.
  if (ahead > 0) return size * (square / (ahead + root));
  return far === 0 ? Number.POSITIVE_INFINITY : size * ((root - ahead) / far);
}

/**
 * The same in a quadrilateral zone: the larger of the shares of the reactance line and of the right blinder.
 *
 * @returns As {@link mhoShare}; `Infinity` for what does not lie forward.
 * @throws A {@link InputError} for what is no zone, and for an impedance that is none.
 * Accuracy: 1e-14 of the share, where the line is met at an angle of 6° or more.
 * @source geometry
 *
 * @example
 * import { quadrilateralShare } from "tripwright/characteristic";
 * const zone = { reactance: 8, resistance: 4, lineAngle: 75, forward: { from: -15, to: 115 } };
 * quadrilateralShare(zone, { re: 3, im: 0 }); // → 0.75
 * quadrilateralShare(zone, { re: 0, im: 4 }); // → 0.5
 */
export function quadrilateralShare(zone: Quadrilateral, impedance: Phasor): number {
  quadrilateral(zone);
  const { reactance, resistance, lineAngle, tilt = 0, blinderAngle = lineAngle, forward } = zone;
  const [z, size] = scaled(impedance);
  if (size === 0) return 0;
  if (!isForward(z, forward)) return Number.POSITIVE_INFINITY;
  const reached = { re: (reactance * cosDegrees(lineAngle)) / sinDegrees(lineAngle), im: reactance };
  const ofReactance = aside(z, tilt) / aside(reached, tilt);
  const ofBlinder = aside(z, blinderAngle) / aside({ re: resistance, im: 0 }, blinderAngle);
  return size * Math.max(ofReactance, ofBlinder, 0);
}

/** How far a point lies to the left of the line through the origin in a direction. */
const aside = ({ re, im }: Phasor, angle: Degrees): number => im * cosDegrees(angle) - re * sinDegrees(angle);

/** How far rounding, of an angle up to 360° too, puts what lies on a line beside it, where its larger part is 1: 2^-50. */
const HAIR = 8.881784197001252e-16;

/** Between two lines through the origin, which belong to what lies between them. */
function isForward(z: Phasor, { from, to }: Quadrilateral["forward"]): boolean {
  const [leftOfFrom, rightOfTo] = [aside(z, from) >= -HAIR, aside(z, to) <= HAIR];
  return to - from > 180 ? leftOfFrom || rightOfTo : leftOfFrom && rightOfTo;
}

/** An impedance over its larger part, and that part, so that no square leaves the range of a double. */
function scaled(impedance: Phasor): readonly [Phasor, number] {
  const { re, im } = object(impedance, "impedance", "an impedance { re, im }");
  finite(re, "impedance.re", "a resistance");
  finite(im, "impedance.im", "a reactance");
  const size = Math.max(Math.abs(re), Math.abs(im));
  return size === 0 ? [{ re: 0, im: 0 }, 0] : [{ re: re / size, im: im / size }, size];
}
