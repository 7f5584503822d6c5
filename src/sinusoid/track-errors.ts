import { fail, finite, object, options } from "../base/check.js";
import type { Hertz } from "../base/units.js";
import { inRange } from "./cycles.js";

/** A phasor by its parts; phasors of `tripwright/phasor` are such. */
export interface PhasorParts {
  readonly re: number;
  readonly im: number;
}

/** A measured value and the true one. */
export interface Compared {
  readonly measured: number;
  readonly reference: number;
}

/**
 * The total vector error (TVE): how far a measured phasor lies from the true one, as a ratio to the true one; 0.01 is 1 %.
 *
 *     TVE = |measured − reference|/|reference|
 *
 * Magnitude and angle count together: 1 % of magnitude alone makes it 0.01, and so does 0.573° alone.
 *
 * @throws A {@link InputError} for phasors that are not finite, a reference of 0, an error beyond the range of a double.
 * Accuracy: within 4 units in the last place, while the difference is above 1e-300.
 * @source IEC/IEEE 60255-118-1 (before: IEEE C37.118.1-2011, clause 5.3)
 *
 * @example
 * import { totalVectorError } from "tripwright/sinusoid";
 * totalVectorError({ re: 63.5, im: 1 }, { re: 62.5, im: 1 }).toFixed(6); // → "0.015998"
 */
export function totalVectorError(measured: PhasorParts, reference: PhasorParts): number {
  const [m, r] = [partsOf(measured, "measured"), partsOf(reference, "reference")];
  const size = Math.hypot(r.re, r.im);
  if (size === 0) fail("out-of-range", "reference", "a phasor other than 0", r);
  const error = Math.hypot(m.re - r.re, m.im - r.im) / size;
  return Number.isFinite(error) ? error : fail("out-of-range", "measured", "a phasor whose error fits a double", m);
}

function partsOf(phasor: PhasorParts, path: string): PhasorParts {
  const { re, im } = object(phasor, path, "a phasor { re, im }");
  return { re: finite(re, `${path}.re`, "a real part"), im: finite(im, `${path}.im`, "an imaginary part") };
}

/**
 * The frequency error (FE) of a measurement: |reference − measured|, in hertz.
 *
 * @throws A {@link InputError} for frequencies that are not finite, an error beyond the range of a double.
 * Accuracy: correctly rounded.
 * @source IEC/IEEE 60255-118-1 (before: IEEE C37.118.1-2011, clause 5.3)
 *
 * @example
 * import { frequencyError } from "tripwright/sinusoid";
 * frequencyError({ measured: 49.75, reference: 50 }); // → 0.25
 */
export const frequencyError = (given: Compared): Hertz => differenceOf(given, "a frequency in Hz");

/**
 * The error of a rate of change of frequency (RFE): |reference − measured|, in hertz per second.
 *
 * @throws A {@link InputError} for rates that are not finite, an error beyond the range of a double.
 * Accuracy: correctly rounded.
 * @source IEC/IEEE 60255-118-1 (before: IEEE C37.118.1-2011, clause 5.3)
 *
 * @example
 * import { rocofError } from "tripwright/sinusoid";
 * rocofError({ measured: -0.75, reference: -1 }); // → 0.25
 */
export const rocofError = (given: Compared): number => differenceOf(given, "a rate of change in Hz/s");

function differenceOf(given: Compared, what: string): number {
  const { measured, reference } = options(given, ["measured", "reference"]);
  return inRange(
    Math.abs(finite(reference, "reference", what) - finite(measured, "measured", what)),
    "measured",
    measured,
  );
}
