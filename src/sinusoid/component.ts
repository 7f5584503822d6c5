import { atan2Degrees, signedAngle } from "../base/degrees.js";
import type { Degrees, Hertz } from "../base/units.js";
import type { Harmonic } from "../base/waveform.js";
import { turns } from "./correlate.js";
import type { HarmonicFit } from "./harmonic-fit.js";
import type { Trace } from "./trace.js";

/** Every order of a fit, 1 first: rms, and angle at the first sample. */
export function componentsOf(
  { parts, step }: Pick<HarmonicFit, "parts" | "step">,
  { half, count }: Trace,
): Required<Harmonic>[] {
  return Array.from({ length: (parts.length - 1) / 2 }, (_, i) => {
    const [order, re, im] = [i + 1, parts[2 * i + 1]!, -parts[2 * i + 2]!];
    const angle = atan2Degrees(im, re) - 360 * turns(order * step, (count - 1) / 2);
    return { order, rms: (Math.hypot(re, im) / Math.SQRT2) * half, angle: signedAngle(angle) };
  });
}

/** Standard uncertainties of a fundamental and an offset. */
export interface SinusoidUncertainties {
  readonly rms: number;
  /** At most 360°/√12, that of an angle of which nothing is known. */
  readonly angle: Degrees;
  /** 0 where the frequency was kept as given. */
  readonly frequency: Hertz;
  readonly offset: number;
  /** How many more samples there are than unknowns: with few, all of them are known to little more than their size. */
  readonly degreesOfFreedom: number;
}

/** 360°/√12: of an angle of which nothing is known. */
export const UNKNOWN = 103.92304845413264;

export function uncertaintiesOf(
  { parts, uncertainty, degreesOfFreedom }: HarmonicFit,
  { half, count }: Trace,
  sampleRate: Hertz,
): SinusoidUncertainties {
  const peak = Math.hypot(parts[1]!, parts[2]!);
  const [p, q] = peak > 0 ? [parts[1]! / peak, parts[2]! / peak] : [1, 0];
  const turn = uncertainty([0, q, -p], (peak * (1 - count)) / 2) / peak;
  return {
    rms: (uncertainty([0, p, q]) / Math.SQRT2) * half,
    angle: Math.min(UNKNOWN, (turn * 180) / Math.PI),
    frequency: (uncertainty([], 1) / 2 / Math.PI) * sampleRate,
    offset: uncertainty([1]) * half,
    degreesOfFreedom,
  };
}
