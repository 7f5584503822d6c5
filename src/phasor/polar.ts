import { atLeast, finite } from "../base/check.js";
import { atan2Degrees, cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import { type AngleRange, normalizeAngle } from "./normalize-angle.js";
import { checkPhasor, exponentOf, made, type Phasor, timesPowerOfTwo } from "./phasor.js";

/**
 * A phasor from magnitude and angle: re = magnitude · cos(angle), im = magnitude · sin(angle). Exact on the axes.
 *
 * @param magnitude - Rms value, 0 or more.
 * @param angle - Degrees, positive = leading.
 * @throws A {@link InputError} for a negative magnitude and for values that are not finite.
 * Accuracy: 3e-16 of the magnitude.
 * @source definition
 *
 * @example
 * import { polar } from "tripwright/phasor";
 * polar(120, 90); // → { re: 0, im: 120 }
 * polar(100, 240).re; // → -50
 */
export function polar(magnitude: number, angle: Degrees): Phasor {
  atLeast(magnitude, 0, "magnitude", "a magnitude");
  finite(angle, "angle", "an angle in degrees");
  return made(magnitude * cosDegrees(angle), magnitude * sinDegrees(angle), "a phasor");
}

/**
 * A phasor from its real and imaginary parts.
 *
 * @throws A {@link InputError} for values that are not finite.
 * Accuracy: exact.
 * @source definition
 *
 * @example
 * import { magnitude, rect } from "tripwright/phasor";
 * magnitude(rect(3, 4)); // → 5
 */
export function rect(re: number, im: number): Phasor {
  return { re: finite(re, "re", "a real part"), im: finite(im, "im", "an imaginary part") };
}

/**
 * The magnitude √(re² + im²), without overflow or underflow on the way.
 *
 * @throws A {@link InputError} for a phasor that is not finite, or whose magnitude does not fit a double.
 * Accuracy: 2.3e-16 of the magnitude (two roundings before the root, one after).
 * @source definition
 *
 * @example
 * import { magnitude } from "tripwright/phasor";
 * magnitude({ re: -3e200, im: 4e200 }); // → 5e200
 */
export function magnitude(p: Phasor): number {
  return made(length(checkPhasor(p, "p")), 0, "a magnitude").re;
}

/** Beyond 1e±150 the squares leave the range of a double, and only there is scaling needed. */
function length({ re, im }: Phasor): number {
  const larger = Math.max(Math.abs(re), Math.abs(im));
  if (larger <= 1e150 && larger >= 1e-150) return Math.sqrt(re * re + im * im);
  const exponent = exponentOf({ re, im });
  const [x, y] = [timesPowerOfTwo(re, -exponent), timesPowerOfTwo(im, -exponent)];
  return timesPowerOfTwo(Math.sqrt(x * x + y * y), exponent);
}

/**
 * The angle of a phasor, in (−180, 180] unless another range is named. A zero phasor has no angle worth printing; the
 * number that comes back for it is 0.
 *
 * @throws A {@link InputError} for a phasor that is not finite and for an unknown range.
 * Accuracy: within 3 units in the last place; exact on the axes and diagonals.
 * @source definition
 *
 * @example
 * import { angle } from "tripwright/phasor";
 * angle({ re: 0, im: -1 }); // → -90
 * angle({ re: 0, im: -1 }, "positive"); // → 270
 * angle({ re: 0, im: -1 }, "lagging"); // → 90
 */
export function angle(p: Phasor, range: AngleRange = "signed"): Degrees {
  const { re, im } = checkPhasor(p, "p");
  return normalizeAngle(atan2Degrees(im, re), range);
}
