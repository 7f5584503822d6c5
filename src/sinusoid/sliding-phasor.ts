/**
 * The phasor of a window that moves along the samples one by one: from one to the next only what enters and what leaves
 * makes a difference, since both meet the same place of the cycle. The plain formula is
 *
 *     re + j·im = √2/cycle · Σ x[n] · exp(−j 360° · n/cycle), n from k to k + cycle − 1
 *
 * A block begins with a fresh sum, so that roundings cannot pile up, and at a whole number of cycles, so that all blocks
 * share one table.
 */
import { phasorAfter } from "../base/synthesis.js";

/** √2/cycle · exp(−j 360° · n/cycle) for n below the cycle, interleaved. */
export function weightsOf(cycle: number): Float64Array {
  const weights = new Float64Array(2 * cycle);
  for (let n = 0; n < cycle; n++) {
    const { re, im } = phasorAfter(n / cycle);
    weights.set([(re * Math.SQRT2) / cycle, (-im * Math.SQRT2) / cycle], 2 * n);
  }
  return weights;
}

/** One block: windows that begin at `first` to `last`; `first` is a multiple of the cycle. */
export interface Block {
  readonly first: number;
  readonly last: number;
  readonly cycle: number;
}

/** Fills `track` with the phasors of a block; what comes back is not finite where one of its samples is not. */
export function slide(samples: Float64Array, weights: Float64Array, track: Float64Array, block: Block): number {
  const { first, last, cycle } = block;
  let [re, im] = [0, 0];
  for (let n = 0; n < cycle; n++) {
    const x = samples[first + n] as number;
    re += x * (weights[2 * n] as number);
    im += x * (weights[2 * n + 1] as number);
  }
  for (let [k, place] = [first, 0]; k < last; k++) {
    track[2 * k] = re;
    track[2 * k + 1] = im;
    const change = (samples[k + cycle] as number) - (samples[k] as number);
    re += change * (weights[place] as number);
    im += change * (weights[place + 1] as number);
    place = place + 2 < weights.length ? place + 2 : 0;
  }
  track[2 * last] = re;
  track[2 * last + 1] = im;
  return re + im;
}
