import type { Degrees, Hertz, Seconds } from "./units.js";

/** A harmonic of a sinusoid: √2 · rms · cos(360 · order · frequency · t + angle). */
export interface Harmonic {
  /** 2 is the second harmonic. */
  readonly order: number;
  readonly rms: number;
  readonly angle?: Degrees;
}

/**
 * A sinusoid x(t) = √2 · rms · cos(360 · frequency · t + angle) + offset + decay.initial · exp(−t/decay.tau) + harmonics.
 * Amplitudes are rms in the unit of the quantity; the offset and the decaying part are instantaneous values.
 *
 * @source phase reference: IEC/IEEE 60255-118-1 (synchrophasors), cosine at its crest where t = 0 and angle = 0
 */
export interface Sinusoid {
  readonly rms: number;
  readonly frequency: Hertz;
  /** Default 0. */
  readonly angle?: Degrees;
  readonly offset?: number;
  readonly decay?: { readonly initial: number; readonly tau: Seconds };
  readonly harmonics?: readonly Harmonic[];
}
