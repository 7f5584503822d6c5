import { cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Hertz, Seconds } from "../base/units.js";
import type { Sinusoid } from "../base/waveform.js";
import { checked } from "./value-at.js";

/**
 * One part of a sinusoid as an arrow that turns and shrinks: the real part of (re + i · im) · exp(−rate · t), turned by
 * hertz · t cycles.
 */
export interface Part {
  readonly re: number;
  readonly im: number;
  readonly hertz: Hertz;
  /** One over the time constant; 0 for what does not shrink. */
  readonly rate: number;
}

/** One over the shortest time constant: what decays faster is gone at once, and its square still fits a double. */
const FASTEST = 1e100;

/** Every part of a sinusoid, as it stands at t = 0: fundamental, harmonics, offset, decaying part. */
export function partsOf(sinusoid: Sinusoid): Part[] {
  const { rms, frequency, angle, offset = 0, decay, harmonics = [] } = checked(sinusoid);
  const { initial, tau } = decay ?? { initial: 0, tau: Number.POSITIVE_INFINITY };
  const turning = [{ order: 1, rms, angle }, ...harmonics].map((wave) => {
    const peak = Math.SQRT2 * wave.rms;
    const { order, angle: ahead = 0 } = wave;
    return { re: peak * cosDegrees(ahead), im: peak * sinDegrees(ahead), hertz: order * frequency, rate: 0 };
  });
  return [
    ...turning,
    { re: offset, im: 0, hertz: 0, rate: 0 },
    { re: initial, im: 0, hertz: 0, rate: Math.min(1 / tau, FASTEST) },
  ];
}

/** The part as it stands at t. */
export function turned({ re, im, hertz, rate }: Part, t: Seconds): Part {
  const degrees = ((hertz * t) % 1) * 360;
  const left = Math.exp(-rate * t);
  const [cos, sin] = [left * cosDegrees(degrees), left * sinDegrees(degrees)];
  return { re: re * cos - im * sin, im: re * sin + im * cos, hertz, rate };
}

/** The sum of what each part contributes. */
export const total = (parts: readonly Part[], of: (part: Part) => number): number =>
  parts.reduce((sum, part) => sum + of(part), 0);

/** The sinusoid at t. */
export const sumAt = (parts: readonly Part[], t: Seconds): number => total(parts, (part) => turned(part, t).re);
