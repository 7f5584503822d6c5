/**
 * What a window that is not quite one cycle makes of a sinusoid, and how it is undone. A window of N samples about the
 * instant m, in samples, sees √2 · Re(X · exp(jωn)), ω = 360° · frequency/sampleRate, as
 *
 *     B = p · X · exp(j(ω − 360°/N)m) + q · X* · exp(−j(ω + 360°/N)m)
 *     p = D(ω − 360°/N), q = D(ω + 360°/N), D(θ) = sin(Nθ/2)/(N sin(θ/2))
 *
 * which two linear equations, real and imaginary part, turn into X.
 *
 * @source A. G. Phadke and J. S. Thorp, Synchronized Phasor Measurements and Their Applications (2008), chapter 3: the
 * factors P and Q of an off-nominal frequency
 */
import { sinDegrees } from "../base/degrees.js";
import { divide } from "../base/double-double.js";
import { cyclesAfter, phasorAfter } from "../base/synthesis.js";
import type { Block } from "./sliding-phasor.js";
import type { TrackOptions } from "./track-window.js";

/** Undoes it in a block of phasors, in place; what comes back is not finite where one of them leaves the range of a double. */
export type Even = (track: Float64Array, block: Block) => number;

/** Nothing where a cycle is a whole number of samples: q is then 0, and p is 1. `length` is that of the longest block. */
export function evenOf({ sampleRate, frequency }: TrackOptions, cycle: number, length: number): Even | undefined {
  const step = divide([frequency, 0], [sampleRate, 0]);
  const beyond = 180 * cyclesAfter(step, cycle);
  // The step has 32 digits, and where cycles are not quite even, they are off by more than the last of them.
  if (Math.abs(beyond) < 1e-27) return undefined;
  const seen = (angle: number) => sinDegrees(beyond) / cycle / sinDegrees(angle / cycle);
  const [p, q] = [seen(beyond), seen(360 + beyond)];
  const [u, v] = [p / (p * p - q * q), q / (p * p - q * q)];
  /** Four for each window: re from re, re from im, im from re, im from im. */
  const factors = new Float64Array(4 * length);
  for (let i = 0; i < length; i++) {
    const middle = i + (cycle - 1) / 2;
    const own = cyclesAfter(step, middle);
    const taken = (middle % cycle) / cycle;
    const a = phasorAfter(taken - own);
    const b = phasorAfter(-taken - own);
    factors.set([u * a.re - v * b.re, -u * a.im - v * b.im, u * a.im - v * b.im, u * a.re + v * b.re], 4 * i);
  }
  return (track, { first, last }) => {
    const back = phasorAfter(-cyclesAfter(step, first));
    let total = 0;
    for (let k = first, place = 0; k <= last; k++, place += 4) {
      const [x, y] = [track[2 * k] as number, track[2 * k + 1] as number];
      const re = x * (factors[place] as number) + y * (factors[place + 1] as number);
      const im = x * (factors[place + 2] as number) + y * (factors[place + 3] as number);
      track[2 * k] = re * back.re - im * back.im + 0;
      track[2 * k + 1] = re * back.im + im * back.re + 0;
      total += re + im;
    }
    return total;
  };
}
