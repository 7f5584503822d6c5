import { finite, nameIn } from "../base/check.js";
import { signedAngle } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";

/** `"signed"` (−180, 180], `"positive"` [0, 360), `"lagging"` [0, 360) counted clockwise, as many nameplates write. */
export type AngleRange = "signed" | "positive" | "lagging";

const RANGES: Readonly<Record<AngleRange, (angle: number) => number>> = {
  signed: signedAngle,
  positive: (angle) => positive(angle % 360),
  lagging: (angle) => positive(-(angle % 360)),
};

/** A hair below 0, turned up by 360, rounds to 360 itself, which is not in the range: its nearest neighbour there is 0. */
function positive(turned: number): number {
  const up = turned < 0 ? turned + 360 : turned;
  return up === 360 ? 0 : up;
}

/**
 * The same direction within one turn.
 *
 * @param angle - Degrees, any finite size; the remainder is exact.
 * @throws A {@link InputError} for an angle that is not finite and for an unknown range.
 * Accuracy: correctly rounded.
 * @source definition
 *
 * @example
 * import { normalizeAngle } from "tripwright/phasor";
 * normalizeAngle(270); // → -90
 * normalizeAngle(-180); // → 180
 * normalizeAngle(-30, "positive"); // → 330
 * normalizeAngle(-30, "lagging"); // → 30
 */
export function normalizeAngle(angle: Degrees, range: AngleRange = "signed"): Degrees {
  finite(angle, "angle", "an angle in degrees");
  return RANGES[nameIn(range, RANGES, "range")](angle) + 0;
}
