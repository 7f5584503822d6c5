/**
 * What does this reading mean? Amplitudes, instantaneous values, cycles and seconds.
 *
 * @module sinusoid
 */
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Cycles, Degrees, Hertz, Seconds } from "../base/units.js";
export type { Harmonic, Sinusoid } from "../base/waveform.js";
export { type Amplitudes, amplitudes, type KnownAmplitude, type Shape } from "./amplitudes.js";
export { type AtFrequency, cyclesToSeconds, secondsToCycles } from "./cycles.js";
export { valueAt } from "./value-at.js";
