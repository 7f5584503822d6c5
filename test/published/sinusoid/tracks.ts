/** Tracks of phasors and frequency, and how far measured ones lie from the true ones. */
import { angle, magnitude, type Phasor, polar } from "tripwright/phasor";
import {
  frequencyError,
  frequencyTrack,
  phasorTrack,
  rocofError,
  rocofTrack,
  secondsToCycles,
  type TimeTag,
  totalVectorError,
  trackWindow,
  valueAt,
} from "tripwright/sinusoid";
import { number } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";

/** The first phasor of a sinusoid that is sampled at so many times the nominal frequency. */
function firstPhasor(inputs: Inputs, ahead: number): Phasor {
  const [nominal, samples] = [number(inputs, "nominal_Hz"), number(inputs, "N_per_cycle")];
  const wave = { rms: number(inputs, "signal_rms"), frequency: number(inputs, "signal_Hz"), angle: ahead };
  const options = { sampleRate: nominal * samples, frequency: nominal };
  const cycle = Array.from({ length: samples }, (_, n) => valueAt(wave, n / options.sampleRate));
  const [re = Number.NaN, im = Number.NaN] = phasorTrack(cycle, options);
  return { re, im };
}

function ofCycle(inputs: Inputs): Answers {
  const [nominal, samples, f] = [
    number(inputs, "nominal_Hz"),
    number(inputs, "N_per_cycle"),
    number(inputs, "signal_Hz"),
  ];
  const [rms, ahead] = [number(inputs, "signal_rms"), number(inputs, "signal_phase_deg")];
  const found = firstPhasor(inputs, ahead);
  /** The true angle at the instant of the tag; that at the first sample is the angle of the signal. */
  const trueAngle = (tag: TimeTag) =>
    ahead + 360 * (f - nominal) * trackWindow({ sampleRate: nominal * samples, frequency: nominal, tag }).delay;
  // X = P · exp(jφ) + Q · exp(−jφ): the signal at 0° gives P + Q, at 90° j(P − Q).
  const [at0, at90] = [firstPhasor(inputs, 0), firstPhasor(inputs, 90)];
  return {
    X_re: found.re,
    X_im: found.im,
    mag: magnitude(found),
    angle_deg: angle(found),
    mag_error_percent: 100 * (magnitude(found) / rms - 1),
    angle_error_first_sample_ref_deg: angle(found) - trueAngle("first"),
    angle_error_window_centre_ref_deg: angle(found) - trueAngle("centre"),
    P_mag: Math.hypot(at0.re + at90.im, at0.im - at90.re) / 2,
    Q_mag: Math.hypot(at0.re - at90.im, at0.im + at90.re) / 2,
    tve_first_sample_percent: 100 * totalVectorError(found, polar(rms, trueAngle("first"))),
  };
}

/** The angle of four samples a cycle; the second rolls over at the first of them. */
function reference(): Answers {
  const angleOf = (...samples: number[]) => {
    const [re = Number.NaN, im = Number.NaN] = phasorTrack(samples, { sampleRate: 200, frequency: 50 });
    return angle({ re, im });
  };
  return {
    peak_at_rollover_deg: angleOf(1, 0, -1, 0),
    positive_going_zero_at_rollover_deg: angleOf(0, 1, 0, -1),
    negative_going_zero_deg: angleOf(0, -1, 0, 1),
    negative_peak_deg: angleOf(-1, 0, 1, 0),
    sine_ref_to_cosine_ref_deg: angleOf(0, 1, 0, -1) - angleOf(1, 0, -1, 0),
  };
}

function errors(inputs: Inputs): Answers {
  if ("f_true_Hz" in inputs) {
    const [reference, measured] = [number(inputs, "f_true_Hz"), number(inputs, "f_meas_Hz")];
    const rates = {
      reference: number(inputs, "rocof_true_Hz_per_s"),
      measured: number(inputs, "rocof_meas_Hz_per_s"),
    };
    return { FE_Hz: frequencyError({ reference, measured }), RFE_Hz_per_s: rocofError(rates) };
  }
  const of = (ratio: number, degrees: number) => 100 * totalVectorError(polar(ratio, degrees), polar(1, 0));
  if ("time_error_us" in inputs) {
    const late = secondsToCycles(number(inputs, "time_error_us") * 1e-6, { frequency: number(inputs, "frequency_Hz") });
    return { phase_error_deg: 360 * late, tve_percent: of(1, 360 * late) };
  }
  if ("angle_error_deg" in inputs)
    return { tve_percent: of(1 + number(inputs, "mag_error_fraction"), number(inputs, "angle_error_deg")) };
  const ratio =
    "magnitude_ratio" in inputs
      ? number(inputs, "magnitude_ratio")
      : 1 + number(inputs, "magnitude_error_percent") / 100;
  return { TVE_percent: of(ratio, number(inputs, "phase_error_deg")) };
}

const STEP = 1e-4;

/** The tests of the standard turn the phase: a ramp by π · rate · t², a modulation by ka · cos(2π · fm · t − π), in radians. */
function rates(inputs: Inputs): Answers {
  const [nominal, t] = [number(inputs, "f0_Hz"), number(inputs, "t_s")];
  const phase = (at: number) =>
    "Rf_Hz_per_s" in inputs
      ? Math.PI * number(inputs, "Rf_Hz_per_s") * at * at
      : number(inputs, "ka") * Math.cos(2 * Math.PI * number(inputs, "fm_Hz") * at - Math.PI);
  const phasors = (...instants: number[]) => instants.flatMap((at) => [Math.cos(phase(at)), Math.sin(phase(at))]);
  const options = { sampleRate: 1 / STEP, frequency: nominal, cycles: 0 };
  const around = frequencyTrack(phasors(t - STEP, t, t + STEP), options);
  return {
    frequency_Hz: Number(frequencyTrack(phasors(t - STEP / 2, t + STEP / 2), options)[0]),
    rocof_Hz_per_s: Number(rocofTrack(around, options)[0]),
  };
}

export const tracks: { readonly [table: string]: Ask } = {
  "sinusoid/phasor-track": (inputs) => ("signal" in inputs ? reference() : ofCycle(inputs)),
  "sinusoid/total-vector-error": errors,
  "sinusoid/frequency-and-rocof": rates,
};
