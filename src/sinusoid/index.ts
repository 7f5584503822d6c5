/**
 * What does this reading mean? Amplitudes and meters, values and samples, fault currents, fits and measurements of traces,
 * phasors and frequency along samples, cycles and seconds.
 *
 * @module sinusoid
 */
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Cycles, Degrees, Hertz, Seconds } from "../base/units.js";
export type { Harmonic, Sinusoid } from "../base/waveform.js";
export { type Amplitudes, amplitudes, type KnownAmplitude, type Shape } from "./amplitudes.js";
export type { SinusoidUncertainties } from "./component.js";
export { type AtFrequency, cyclesToSeconds, secondsToCycles } from "./cycles.js";
export { firstPeak, type Peak } from "./first-peak.js";
export { type FitSinusoidOptions, fitSinusoid, type NoSinusoidFit, type SinusoidFit } from "./fit-sinusoid.js";
export { frequencyTrack, type RateOptions, rocofTrack } from "./frequency-track.js";
export type { HarmonicFailure } from "./harmonic-fit.js";
export { type HarmonicsOptions, harmonics } from "./harmonics.js";
export { type Measurement, type MeasurementUncertainties, type MeasureOptions, measure } from "./measure.js";
export { type Meter, type MeterKind, meterReading, type ShapedAmplitude } from "./meter-reading.js";
export { type FaultCurrent, offsetSinusoid } from "./offset-sinusoid.js";
export { exactPeakFactor, peakFactor } from "./peak-factor.js";
export { phasorTrack } from "./phasor-track.js";
export { meanOver, rmsOver, type TimeWindow } from "./rms-over.js";
export { type SampleRange, sample } from "./sample.js";
export { type Distortion, thd } from "./thd.js";
export { type Compared, frequencyError, type PhasorParts, rocofError, totalVectorError } from "./track-errors.js";
export { type TimeTag, type TrackOptions, type TrackWindow, trackWindow } from "./track-window.js";
export { valueAt } from "./value-at.js";
export { type Damping, rmsFactorAt, shortCircuitPowerFactor, timeConstant, xOverROf } from "./x-over-r.js";
