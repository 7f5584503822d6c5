import { atLeast, fail, options, whole } from "../base/check.js";
import { type AngleRange, normalizeAngle } from "./normalize-angle.js";
import type { Phasor } from "./phasor.js";
import { angle, magnitude } from "./polar.js";

/** How a phasor is printed. */
export interface PolarFormat {
  /** Significant digits of the magnitude, 1 to 17, default 6; the angle is as fine: two decimals fewer. */
  readonly digits?: number;
  /** The unit that is printed; nothing is converted. */
  readonly unit?: string;
  /** Default `"signed"`. What is counted clockwise is not read back as such. */
  readonly range?: AngleRange;
  /** A magnitude of no more than this is printed as 0, without an angle, which would be noise. Default 0. */
  readonly floor?: number;
}

/**
 * A phasor as text, magnitude and angle; trailing zeros are left out. {@link parsePolar} reads it back.
 *
 * @throws A {@link InputError} for a phasor that is not finite, for unknown keys and for options out of range.
 * Accuracy: half a unit of the last digit; 17 digits read back within 1e-15 of the magnitude.
 * @source common practice
 *
 * @example
 * import { formatPolar, polar } from "tripwright/phasor";
 * formatPolar(polar(66.4, -120), { unit: "V" }); // → "66.4 V ∠ -120°"
 * formatPolar(polar(200 / 3, 330), { digits: 4, range: "lagging" }); // → "66.67 ∠ 30°"
 * formatPolar({ re: 1e-9, im: 3e-9 }, { unit: "A", floor: 1e-6 }); // → "0 A"
 */
export function formatPolar(p: Phasor, format: PolarFormat = {}): string {
  const { digits = 6, unit = "", range = "signed", floor = 0 } = options(format, ["digits", "unit", "range", "floor"]);
  whole(digits, [1, 17], "digits", "a number of digits");
  atLeast(floor, 0, "floor", "a magnitude");
  if (typeof unit !== "string") fail("wrong-type", "unit", "text", unit);
  const [size, degrees] = [magnitude(p), angle(p, range)];
  const spaced = unit && ` ${unit}`;
  if (size <= floor) return `0${spaced}`;
  const rounded = Math.min(Number(size.toPrecision(digits)), Number.MAX_VALUE);
  // What rounds up to the end of the range belongs to its other end.
  const turned = normalizeAngle(
    Number(degrees.toFixed(Math.max(digits - 2, 0))),
    range === "signed" ? range : "positive",
  );
  return `${rounded}${spaced} ∠ ${turned}°`;
}
