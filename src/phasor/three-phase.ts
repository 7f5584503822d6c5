import { signedAngle } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import { type Phases, type Rotation, senseOf } from "./phases.js";
import { polar } from "./polar.js";

/**
 * A balanced set: three phasors of one magnitude, a third of a turn apart.
 *
 *     ABC: b = a − 120°, c = a + 120°;  ACB: b = a + 120°, c = a − 120°
 *
 * @param magnitude - Rms value, 0 or more.
 * @param angle - Of phase a, in degrees, positive = leading.
 * @param rotation - `"ABC"` or `"ACB"`.
 * @throws A {@link InputError} for a negative magnitude, for values that are not finite and for an unknown rotation.
 * Accuracy: 8e-16 of the magnitude.
 * @source definition
 *
 * @example
 * import { threePhase } from "tripwright/phasor";
 * threePhase(100, 120).b; // → { re: 100, im: 0 }
 * threePhase(100, -30).c; // → { re: 0, im: 100 }
 * threePhase(100, 120, "ACB").c; // → { re: 100, im: 0 }
 */
export function threePhase(magnitude: number, angle: Degrees = 0, rotation: Rotation = "ABC"): Phases {
  const third = 120 * senseOf(rotation);
  // A huge angle must lose its whole turns first, or a third of one is lost in its rounding.
  const a = polar(magnitude, angle);
  const start = signedAngle(angle);
  return { a, b: polar(magnitude, start - third), c: polar(magnitude, start + third) };
}
