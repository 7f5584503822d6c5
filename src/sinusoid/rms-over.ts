import { above, finite, options } from "../base/check.js";
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import { panel } from "../base/quadrature.js";
import type { Seconds } from "../base/units.js";
import type { Sinusoid } from "../base/waveform.js";
import { inRange } from "./cycles.js";
import { type Part, partsOf, sumAt, total, turned } from "./parts.js";

/** A stretch of time. */
export interface TimeWindow {
  readonly from: Seconds;
  /** After `from`. */
  readonly to: Seconds;
}

/**
 * The rms value of a sinusoid over a window, by the integral in closed form: nothing is sampled.
 *
 *     √( 1/(to − from) · ∫ x(t)² dt )
 *
 * Over whole cycles this is √(rms² + offset² + Σ rms_h²) where the orders of the harmonics are whole numbers and nothing
 * decays; over other windows it depends on where they lie. It is a value over the window, not at an instant: the direct
 * part that decays within it counts with its cross products. For that at an instant see {@link rmsFactorAt}.
 *
 * @param window - Seconds, on the clock of {@link valueAt}.
 * @throws A {@link InputError} as {@link valueAt} does, and for a window that does not end after it begins.
 * Accuracy: the mean square is within 5e-15 of the square of the sum of all peaks. In windows shorter than 0.3 cycle of the
 * fastest part, where that would be too little beside a zero crossing, the rms is within 1e-15 of the sum of all peaks. The
 * rounding of frequency · t adds what it adds to {@link valueAt}.
 * @source definition
 *
 * @example
 * import { offsetSinusoid, rmsOver } from "tripwright/sinusoid";
 * rmsOver({ rms: 4, frequency: 50, offset: 3 }, { from: 0, to: 0.02 }); // → 5
 * const fault = offsetSinusoid({ rms: 1000, frequency: 50, inception: 0, tau: 0.045 });
 * rmsOver(fault, { from: 0, to: 0.02 }).toFixed(1); // → "1522.6"
 */
export function rmsOver(sinusoid: Sinusoid, window: TimeWindow): number {
  const { parts, to, width } = over(sinusoid, window);
  const fastest = Math.max(...parts.map(({ rate, hertz }) => Math.hypot(rate, 2 * Math.PI * hertz)));
  // In a short window the products of the closed form would cancel beside a zero crossing, and the panel is exact.
  const square =
    fastest * width < 2
      ? panel((share) => sumAt(parts, share * width) ** 2, 0, 1)
      : total(parts, (a) => total(parts, (b) => 0.5 * (meanOf(a, b, width) + meanOf(a, mirrored(b), width))));
  return inRange(Math.sqrt(Math.max(square, 0)), "to", to);
}

/**
 * The mean of a sinusoid over a window, by the integral in closed form: 1/(to − from) · ∫ x(t) dt. Over whole cycles it
 * is the d.c. component.
 *
 * @param window - Seconds, on the clock of {@link valueAt}.
 * @throws A {@link InputError} as {@link rmsOver} does.
 * Accuracy: within 1e-15 of the sum of all peaks; the rounding of frequency · t adds what it adds to {@link valueAt}.
 * @source definition
 *
 * @example
 * import { meanOver } from "tripwright/sinusoid";
 * meanOver({ rms: 230, frequency: 50, offset: 2 }, { from: 0, to: 0.04 }); // → 2
 */
export function meanOver(sinusoid: Sinusoid, window: TimeWindow): number {
  const { parts, to, width } = over(sinusoid, window);
  return inRange(
    total(parts, (part) => meanOf(part, STEADY, width)),
    "to",
    to,
  );
}

/** The parts as they stand where the window begins. */
function over(sinusoid: Sinusoid, window: TimeWindow) {
  const parts = partsOf(sinusoid);
  const { from, to } = options(window, ["from", "to"]);
  above(to, finite(from, "from", "a time in seconds"), "to", "a time in seconds");
  return { parts: parts.map((part) => turned(part, from)), to, width: to - from };
}

const STEADY: Part = { re: 1, im: 0, hertz: 0, rate: 0 };
const mirrored = (part: Part): Part => ({ ...part, im: -part.im, hertz: -part.hertz });

/**
 * The mean over the window of the real part of the product of two arrows, which is an arrow too: with z = x + iy its
 * logarithm over the window, the mean is that at the beginning times (exp(z) − 1)/z. All is written so that nothing
 * cancels near z = 0, and so that whole cycles are exact.
 */
function meanOf(a: Part, b: Part, width: Seconds): number {
  const re = a.re * b.re - a.im * b.im;
  const im = a.re * b.im + a.im * b.re;
  const cycles = (a.hertz + b.hertz) * width;
  const [x, y] = [-(a.rate + b.rate) * width, 2 * Math.PI * cycles];
  const size = x * x + y * y;
  if (size < 1e-33) return re;
  const [sin, cos] = [sinDegrees(180 * cycles), cosDegrees(180 * cycles)];
  const across = Math.expm1(x) * (1 - 2 * sin * sin) - 2 * sin * sin;
  const up = 2 * Math.exp(x) * sin * cos;
  return (re * (across * x + up * y) - im * (up * x - across * y)) / size;
}
