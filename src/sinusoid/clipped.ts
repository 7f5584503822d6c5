import type { Trace } from "./trace.js";

/** Over a flat stretch the fundamental must fall by so many times noise and grain together: harmonics may make a crest broad. */
const BROAD = 6;
/** The noise of a flat top, from its lowest sample to its highest, in standard deviations. */
const SPREAD = 7;

/** A fundamental among values within ±1. */
export interface Fundamental {
  readonly peak: number;
  /** Cycles a sample. */
  readonly step: number;
  /** The rms of what is neither it nor a harmonic. */
  readonly noise: number;
  /** From code to code of the converter; 0 for none. */
  readonly grain: number;
}

/**
 * The share of samples that lie flat on an extreme, three or more in a row, equal or within the noise; 0 unless over the
 * longest of these stretches the fundamental falls much further from its crest than noise and converter would hide.
 */
export function clippedShare(trace: Trace, fundamental: Fundamental): number {
  return Math.max(flatShare(trace, { ...fundamental, noise: 0 }), flatShare(trace, fundamental));
}

function flatShare(
  { values, count, maximum, minimum, middle, half }: Trace,
  { peak, step, noise, grain }: Fundamental,
): number {
  const width = SPREAD * noise;
  // A crest this long falls by peak · (1 − cos(180° · step · (length − 1))).
  const fall = (BROAD * (width + grain)) / peak;
  if (!(fall < 2)) return 0;
  const least = Math.max(3, 1 + Math.acos(1 - fall) / Math.PI / step);
  let flat = 0;
  for (const [extreme, sign] of [
    [maximum, 1],
    [minimum, -1],
  ] as const) {
    const level = (sign * (extreme - middle)) / half - width;
    let [run, longest, all] = [0, 0, 0];
    for (const x of values) {
      run = sign * x < level ? 0 : run + 1;
      if (run > 2) all += run > 3 ? 1 : 3;
      if (run > longest) longest = run;
    }
    if (longest >= least) flat += all;
  }
  return flat / count;
}
