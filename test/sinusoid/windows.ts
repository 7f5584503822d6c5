/** Windows of samples at 50 digits: the plain formulas behind the tracks, one window at a time. */
import { type ComplexReference, cosineOf, D, exactly, type Reference, SQRT2, sineOf } from "../base/reference.js";

/** Samples of √2 · rms · cos(360 · f/sampleRate · n + angle), each the double nearest to it, from sample `first` on. */
export function sampled(wave: {
  readonly f: number;
  readonly sampleRate: number;
  readonly angle: number;
  readonly count: number;
  readonly rms?: number;
  readonly first?: number;
}): Float64Array {
  const { f, sampleRate, angle, count, rms = 1, first = 0 } = wave;
  const peak = SQRT2.times(exactly(rms));
  const step = exactly(f).div(exactly(sampleRate)).times(360);
  return Float64Array.from({ length: count }, (_, i) => {
    const degrees = step.times(first + i).plus(exactly(angle));
    return peak.times(cosineOf(degrees.mod(360))).toNumber();
  });
}

/** rms∠angle */
export const truth = (rms: number, angle: number): ComplexReference => ({
  re: exactly(rms).times(cosineOf(exactly(angle))),
  im: exactly(rms).times(sineOf(exactly(angle))),
});

/** exp(−j 360° · n/cycle) for n below the cycle. */
function turned(cycle: number): readonly ComplexReference[] {
  return Array.from({ length: cycle }, (_, n) => {
    const degrees = new D(360 * n).div(cycle);
    return { re: cosineOf(degrees), im: sineOf(degrees).neg() };
  });
}

/** √2/cycle · Σ x[n] · exp(−j 360° · n/cycle) over the window that begins at k, term by term. */
export function windowSums(cycle: number): (samples: ArrayLike<number>, k: number) => ComplexReference {
  const turns = turned(cycle);
  const scale = SQRT2.div(cycle);
  return (samples, k) => {
    let [re, im]: [Reference, Reference] = [new D(0), new D(0)];
    for (let n = k; n < k + cycle; n++) {
      const x = exactly(samples[n] as number);
      const turn = turns[n % cycle] as ComplexReference;
      re = re.plus(x.times(turn.re));
      im = im.plus(x.times(turn.im));
    }
    return { re: re.times(scale), im: im.times(scale) };
  };
}

/**
 * The phasor of a window that is not one cycle, without the factors P and Q: what the sum makes of a cosine and of a sine
 * of the nominal frequency, each summed term by term, and from these two the phasor that makes the sum what it is.
 */
export function unevenSums(
  cycle: number,
  step: Reference,
): (samples: ArrayLike<number>, k: number) => ComplexReference {
  const turns = turned(cycle);
  const sumOf = windowSums(cycle);
  return (samples, k) => {
    const zero = new D(0);
    const [fromRe, fromIm] = [
      { re: zero, im: zero },
      { re: zero, im: zero },
    ];
    for (let n = k; n < k + cycle; n++) {
      const degrees = step.times(n).mod(1).times(360);
      const turn = turns[n % cycle] as ComplexReference;
      const [cosine, sine] = [cosineOf(degrees).times(2).div(cycle), sineOf(degrees).times(-2).div(cycle)];
      fromRe.re = fromRe.re.plus(cosine.times(turn.re));
      fromRe.im = fromRe.im.plus(cosine.times(turn.im));
      fromIm.re = fromIm.re.plus(sine.times(turn.re));
      fromIm.im = fromIm.im.plus(sine.times(turn.im));
    }
    const sum = sumOf(samples, k);
    const determinant = fromRe.re.times(fromIm.im).minus(fromIm.re.times(fromRe.im));
    return {
      re: sum.re.times(fromIm.im).minus(fromIm.re.times(sum.im)).div(determinant),
      im: fromRe.re.times(sum.im).minus(sum.re.times(fromRe.im)).div(determinant),
    };
  };
}

/** Phasor k of a track. */
export const phasorOf = (track: ArrayLike<number>, k: number) => ({
  re: track[2 * k] as number,
  im: track[2 * k + 1] as number,
});
