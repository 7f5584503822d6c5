import { atLeast, fail, object, whole } from "../base/check.js";
import { readEach } from "../base/read-each.js";
import type { Harmonic } from "../base/waveform.js";

/** Total harmonic distortion by both definitions, as ratios; absent where the divisor is 0. */
export interface Distortion {
  /** Over the fundamental, as IEC 61000-4-7 and IEEE Std 519 define THD. */
  readonly thdF?: number;
  /** Over the rms value of fundamental and harmonics together; never above 1. */
  readonly thdR?: number;
}

/**
 * Total harmonic distortion, by both definitions.
 *
 *     h = √(rms₂² + rms₃² + …)    thdF = h/rms₁    thdR = h/√(rms₁² + h²) = thdF/√(1 + thdF²)
 *
 * @param spectrum - What {@link harmonics} returns, or any list of orders that come once each: 1 is the fundamental, 0 (the
 * d.c. component) does not count. The amplitudes may be peak values as well, as long as all are.
 * @throws A {@link InputError} for orders that are not whole numbers or come twice, negative or non-finite amplitudes, and
 * amplitudes whose ratio does not fit a double.
 * Accuracy: within 4 units in the last place.
 * @source thdF: IEC 61000-4-7 and IEEE Std 519, from memory; thdR: common practice
 *
 * @example
 * import { thd } from "tripwright/sinusoid";
 * thd([{ order: 1, rms: 100 }, { order: 5, rms: 3 }, { order: 7, rms: 4 }]).thdF; // → 0.05
 */
export function thd(spectrum: readonly Harmonic[]): Distortion {
  const amplitudes = new Map<number, number>();
  readEach(spectrum, "spectrum", "a list of harmonics", (harmonic) => {
    const { order, rms } = object(harmonic, "", "a harmonic { order, rms }");
    whole(order, [0, 10_000], "order", "an order");
    if (amplitudes.has(order)) fail("duplicate", "order", "an order that comes once", order);
    amplitudes.set(order, atLeast(rms, 0, "rms", "an rms value"));
  });
  const found = distortion(
    amplitudes.get(1) ?? 0,
    [...amplitudes].map(([order, rms]) => (order > 1 ? rms : 0)),
  );
  for (const ratio of Object.values(found))
    if (!Number.isFinite(ratio)) fail("out-of-range", "spectrum", "amplitudes whose ratio fits a double", ratio);
  return found;
}

export function distortion(fundamental: number, harmonics: readonly number[]): Distortion {
  const rest = Math.hypot(...harmonics);
  const all = Math.hypot(fundamental, rest);
  return { ...(fundamental > 0 && { thdF: rest / fundamental }), ...(all > 0 && { thdR: rest / all }) };
}
