/** Zones of distance protection in the impedance plane: x = resistance, y = reactance, in ohm of the loop. */
import { above, atLeast, fail, finite, options } from "../base/check.js";
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import type { Circle, Point, Polygon } from "./region.js";

/** A mho zone. */
export interface Mho {
  /** Ohm along the characteristic angle, above 0. */
  readonly reach: number;
  /** The characteristic angle, in degrees. */
  readonly angle: Degrees;
  /** Ohm in the opposite direction, for an offset mho. Default 0: self-polarised, the circle passes through the origin. */
  readonly reverse?: number;
}

/**
 * A mho zone: the circle whose diameter goes from the reverse reach to the forward reach.
 *
 *     |Z| = c·cos(φ − angle) + √(r² − c²·sin²(φ − angle)),  c = (reach − reverse)/2,  r = (reach + reverse)/2
 *
 * @throws A {@link InputError} for a reach that is not above 0, a reverse reach below 0, and unknown keys.
 * Accuracy: 2 units in the last place of the reach.
 * @source common practice; the circle of Gönen, Electric Power Transmission System Engineering, 2nd ed., example 10.7
 *
 * @example
 * import { mho } from "tripwright/characteristic";
 * mho({ reach: 8, angle: 90, reverse: 2 }); // → { form: "circle", center: { x: 0, y: 3 }, radius: 5 }
 */
export function mho(zone: Mho): Circle {
  const { reach, angle, reverse = 0 } = options(zone, ["reach", "angle", "reverse"]);
  above(reach, 0, "reach", "a reach", "ohm");
  finite(angle, "angle", "an angle in degrees");
  atLeast(reverse, 0, "reverse", "a reach", "ohm");
  return { form: "circle", center: at((reach - reverse) / 2, angle), radius: (reach + reverse) / 2 };
}

const at = (length: number, angle: Degrees): Point => ({
  x: length * cosDegrees(angle) + 0,
  y: length * sinDegrees(angle) + 0,
});

/** A quadrilateral zone. */
export interface Quadrilateral {
  /** The reactance of the point that is reached on the line angle, in ohm, above 0. */
  readonly reactance: number;
  /** Where the right blinder meets the resistance axis, in ohm, above 0. */
  readonly resistance: number;
  /** Degrees, above 0 and below 180. */
  readonly lineAngle: Degrees;
  /** How the reactance line is turned about the point that is reached; negative = falling to the right. Default 0. */
  readonly tilt?: Degrees;
  /** The direction of the right blinder. Default: the line angle. */
  readonly blinderAngle?: Degrees;
  /** The two lines through the origin between which faults lie forward, such as −15° and 115°. */
  readonly forward: { readonly from: Degrees; readonly to: Degrees };
}

/**
 * A quadrilateral zone: below the reactance line, left of the right blinder, and forward.
 *
 * @returns Its corners counter-clockwise from the origin.
 * @throws A {@link InputError} for reaches that are not above 0, for angles out of order, and where the lines do not meet
 * in front of the relay.
 * Accuracy: corners 1e-14 of the reach where lines meet at more than a grazing angle.
 * @source common practice
 *
 * @example
 * import { boundaryAlong, quadrilateral } from "tripwright/characteristic";
 * const zone = quadrilateral({ reactance: 8, resistance: 4, lineAngle: 75, tilt: -3, forward: { from: -15, to: 115 } });
 * boundaryAlong(zone, { angle: 60 }).map((ohm) => ohm.toFixed(3)); // → ["0.000", "9.092"]
 */
export function quadrilateral(zone: Quadrilateral): Polygon {
  const read = options(zone, ["reactance", "resistance", "lineAngle", "tilt", "blinderAngle", "forward"]);
  const { reactance, resistance, lineAngle, tilt = 0, blinderAngle = lineAngle } = read;
  const { from, to } = options(read.forward, ["from", "to"], "forward");
  above(reactance, 0, "reactance", "a reactance", "ohm");
  above(resistance, 0, "resistance", "a resistance", "ohm");
  between(lineAngle, [0, 180], "lineAngle");
  between(tilt, [-90, 90], "tilt");
  between(blinderAngle, [0, 180], "blinderAngle");
  between(from, [-90, lineAngle], "forward.from");
  between(to, [lineAngle, 180], "forward.to");
  const reached = { x: (reactance * cosDegrees(lineAngle)) / sinDegrees(lineAngle), y: reactance };
  const lines = {
    from: { through: ORIGIN, angle: from },
    blinder: { through: { x: resistance, y: 0 }, angle: blinderAngle },
    reactance: { through: reached, angle: tilt },
    to: { through: ORIGIN, angle: to },
  };
  const corners = [
    ORIGIN,
    meet(lines.from, lines.blinder, "forward.from"),
    meet(lines.blinder, lines.reactance, "blinderAngle"),
    meet(lines.to, lines.reactance, "forward.to"),
  ];
  if (!isInOrder(corners))
    fail("conflict", "", "lines that enclose a zone of four corners in front of the relay", zone);
  return { form: "polygon", corners };
}

const ORIGIN: Point = { x: 0, y: 0 };

function between(angle: Degrees, [low, high]: readonly [number, number], path: string): void {
  finite(angle, path, "an angle in degrees");
  if (!(angle > low && angle < high)) fail("out-of-range", path, `an angle between ${low}° and ${high}°`, angle);
}

interface Line {
  readonly through: Point;
  readonly angle: Degrees;
}

function meet(one: Line, other: Line, path: string): Point {
  const [u, w] = [at(1, one.angle), at(1, other.angle)];
  const across = u.x * w.y - u.y * w.x;
  if (Math.abs(across) < 1e-9) fail("conflict", path, "a line that meets the next one", one.angle);
  const [dx, dy] = [other.through.x - one.through.x, other.through.y - one.through.y];
  const ahead = (dx * w.y - dy * w.x) / across;
  return { x: one.through.x + ahead * u.x, y: one.through.y + ahead * u.y };
}

/** Whether the way around turns left at every corner but the origin, where a wide zone may turn the other way. */
function isInOrder(corners: readonly Point[]): boolean {
  return corners.slice(1).every((b, i) => {
    const a = corners[i] as Point;
    const c = corners[(i + 2) % corners.length] as Point;
    return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x) > 0;
  });
}
