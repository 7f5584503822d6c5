import { fail } from "../base/check.js";
import { doubles, finiteDoubles, room } from "../base/doubles.js";
import { inRange } from "./cycles.js";
import { slide, weightsOf } from "./sliding-phasor.js";
import { type TrackOptions, trackWindow } from "./track-window.js";
import { evenOf } from "./uneven-cycle.js";

/** The most samples between fresh sums, cut down to whole cycles but to one at least. */
const FRESH = 1_024;

/**
 * The phasor of every window of one nominal cycle: the discrete Fourier transform at the nominal frequency, rms.
 *
 *     X[k] = √2/N · Σ x[n] · exp(−j 360° · n/N), n from k to k + N − 1
 *
 * These are synchrophasors: an angle is that against a cosine of exactly the nominal frequency with a crest at sample 0,
 * where t = 0. A sinusoid √2 · rms · cos(360 · frequency · t + angle) has the same phasor rms∠angle in every window; at
 * another frequency f its angle at the instant t is angle + 360 · (f − frequency) · t, and the phasor turns.
 *
 * The `tag` says which t of its window a phasor is for, see {@link trackWindow}. It moves no number, since the cosine that
 * angles are counted from runs on through the window. Off nominal a phasor fits the instant at the centre; taken for that
 * of the first or the last sample its angle is off by 180° · (f/frequency − 1) · (N − 1)/N.
 *
 * Where a cycle is no whole number of samples (60 Hz at 4 kHz: 66.67), N is the nearest one, and what the window has too
 * much or too little is undone: it is known what the sum makes of a sinusoid at nominal frequency, two linear equations for
 * the two parts of X. The phasor is then exact for such a sinusoid, with any constant beside it. Harmonics are rejected
 * where a cycle is whole; elsewhere about 1/N of one remains.
 *
 * Off nominal the magnitude droops to about sin(πd)/(πd), d = f/frequency − 1, and a ripple at 2f remains, of
 * |f − frequency|/(f + frequency) of the magnitude. Three balanced phases together, as positive sequence, are free of it.
 *
 * @param samples - Equally far apart, at the sample rate; at least one cycle of them.
 * @param given - N must be 3 or more; 20 and more are usual.
 * @param out - Filled and returned where given; exactly 2 · (count − N + 1) long.
 * @returns Interleaved re, im; window k begins at sample k.
 * @throws A {@link InputError} for samples that are not finite (`samples[7]`) or too few, for an `out` of another length,
 * for phasors beyond the range of a double, and as {@link trackWindow} does.
 * Accuracy: 3e-14 of the largest sample at any length, at 3 to 1,000 samples a cycle; sums are made afresh every 1,024
 * samples or sooner (in longer cycles, every cycle), and what came before is forgotten then.
 * @source A. G. Phadke and J. S. Thorp, Synchronized Phasor Measurements and Their Applications (2008), chapters 2 and 3;
 * phase reference: IEC/IEEE 60255-118-1
 *
 * @example
 * import { phasorTrack } from "tripwright/sinusoid";
 * const crest = 10 * Math.SQRT2;
 * const samples = [crest, 0, -crest, 0, crest]; // four samples a cycle
 * const track = phasorTrack(samples, { sampleRate: 200, frequency: 50 });
 * Array.from(track, (part) => Math.round(part)); // → [10, 0, 10, 0]
 */
export function phasorTrack(samples: ArrayLike<number>, given: TrackOptions, out?: Float64Array): Float64Array {
  const { cycle } = trackWindow(given);
  const list = doubles(samples, "samples", "a sample");
  const count = list.length - cycle + 1;
  if (count < 1) fail("wrong-length", "samples", `${cycle} samples or more`, list.length);
  const track = room(out, 2 * count);
  const source = track.buffer === list.buffer ? list.slice() : list;
  const size = cycle * Math.max(1, Math.floor(FRESH / cycle));
  const weights = weightsOf(cycle);
  const even = evenOf(given, cycle, Math.min(size, count));
  for (let first = 0; first < count; first += size) {
    const block = { first, last: Math.min(first + size, count) - 1, cycle };
    const sum = slide(source, weights, track, block) + (even?.(track, block) ?? 0);
    if (!Number.isFinite(sum)) {
      finiteDoubles(source, "samples", "a sample");
      inRange(sum, "samples", sum);
    }
  }
  return track;
}
