import type { Answer } from "../base/answer.js";
import { fail, finite, options } from "../base/check.js";
import { atan2Degrees, cosDegrees, signedAngle, sinDegrees } from "../base/degrees.js";
import { doubles } from "../base/doubles.js";
import type { Degrees } from "../base/units.js";
import { checkPhasor, nonzero, type Phasor } from "./phasor.js";

const ANGLE = "an angle in degrees";

/** Two directions, each an angle or a phasor that has one. */
export interface Directions {
  readonly from: Degrees | Phasor;
  readonly to: Degrees | Phasor;
}

/**
 * By how much `to` leads `from`, on (−180, 180]; negative where it lags.
 *
 *     to − from, less whole turns
 *
 * @throws A {@link InputError} for a phasor of 0, which has no direction, and for values that are not finite.
 * Accuracy: the nearest double for angles of any size; within 2e-13° for phasors.
 * @source definition
 *
 * @example
 * import { angleBetween, polar } from "tripwright/phasor";
 * angleBetween({ from: 170, to: -170 }); // → 20
 * angleBetween({ from: 0, to: -180 }); // → 180
 * angleBetween({ from: polar(63.5, 0), to: polar(4, -90) }); // → -90
 */
export function angleBetween(directions: Directions): Degrees {
  options(directions, ["from", "to"]);
  const [from, to] = [directionOf(directions.from, "from"), directionOf(directions.to, "to")];
  const apart = to - from;
  // What the difference was rounded by is not lost: beside a whole turn it may be all of the answer.
  const step = apart - to;
  const lost = to - (apart - step) - (from + step);
  return signedAngle(apart) + lost;
}

function directionOf(given: Degrees | Phasor, path: string): Degrees {
  if (typeof given !== "object") return signedAngle(finite(given, path, ANGLE));
  const { re, im } = nonzero(checkPhasor(given, path), path);
  return atan2Degrees(im, re);
}

/**
 * The angles of something that turns, as one count: whole turns are added so that no step is longer than half a turn. A
 * step from 359 to 1 goes on to 361; 0 and 360 are the same. A step of exactly half a turn is taken as leading.
 *
 * @param angles - Degrees; the first stays as it is.
 * @throws A {@link InputError} with the place of a bad angle (`angles[7]`).
 * Accuracy: correctly rounded up to 1e16, however many steps; nothing adds up.
 * @source definition
 *
 * @example
 * import { unwrapAngles } from "tripwright/phasor";
 * unwrapAngles([330, 345, 0, 15]); // → [330, 345, 360, 375]
 * unwrapAngles([-170, 170, 150]); // → [-170, -190, -210]
 */
export function unwrapAngles(angles: ArrayLike<number>): Degrees[] {
  let [turns, last] = [0, 0];
  return checked(angles).map((angle, i) => {
    const now = signedAngle(angle);
    const step = now - last;
    turns += i === 0 ? angle - now : signedAngle(step) - step;
    last = now;
    return turns + now;
  });
}

/** The mean direction of many angles. */
export interface MeanAngle {
  /** On (−180, 180]. */
  readonly angle: Degrees;
  /** The length of the mean of the unit vectors: 1 where all agree, near 0 where they point all round. */
  readonly length: number;
}

/**
 * The mean direction: the angle of the sum of unit vectors. The mean of 350 and 10 is 0, not 180.
 *
 * @param angles - Degrees, one or more.
 * @returns The mean, or `no-direction` where the unit vectors cancel to what their rounding leaves.
 * @throws A {@link InputError} for an empty list and with the place of a bad angle (`angles[7]`).
 * Accuracy: 1e-13°, and 1e-14° for every angle, over the length; the length 2e-16 and 1e-16 for every angle.
 * @source K. V. Mardia and P. E. Jupp, Directional Statistics (2000), 2.2 (from memory)
 *
 * @example
 * import { meanAngle } from "tripwright/phasor";
 * meanAngle([350, 10]); // → { kind: "found", angle: 0, length: 0.984807753012208 }
 * meanAngle([0, 120, 240]); // → { kind: "none", reason: "no-direction" }
 */
export function meanAngle(angles: ArrayLike<number>): Answer<MeanAngle, "no-direction"> {
  const list = checked(angles);
  const count = list.length;
  if (count === 0) fail("wrong-length", "angles", "an angle or more", list);
  let [re, im] = [0, 0];
  for (const angle of list) {
    re += cosDegrees(angle);
    im += sinDegrees(angle);
  }
  const length = Math.sqrt(re * re + im * im) / count;
  if (length <= count * Number.EPSILON) return { kind: "none", reason: "no-direction" };
  return { kind: "found", angle: atan2Degrees(im, re), length: Math.min(length, 1) };
}

function checked(angles: ArrayLike<number>): number[] {
  return Array.from(doubles(angles, "angles", ANGLE), (angle, i) =>
    Number.isFinite(angle) ? angle : finite(angle, `angles[${i}]`, ANGLE),
  );
}
