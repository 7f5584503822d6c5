import {
  amplitudes,
  cyclesToSeconds,
  rmsFactorAt,
  type Shape,
  sample,
  timeConstant,
  valueAt,
} from "tripwright/sinusoid";
import { number, text } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";
import { faultCurrents } from "./fault-currents.js";
import { fits } from "./fits.js";
import { tracks } from "./tracks.js";
import { overWindows } from "./windows.js";

const SHAPES: { readonly [reference: string]: Shape } = {
  sine: "sine",
  "half-wave-rectified-sine": "half-wave",
  "full-wave-rectified-sine": "full-wave",
  "sawtooth-symmetric": "sawtooth",
};

const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** The textbooks write peak · sin(ωt + phase); the library counts its angle from the crest. */
function sineWave(inputs: Inputs, peak: string, phase = 0) {
  const rms = amplitudes({ peak: number(inputs, peak) }).rms;
  return { rms, frequency: number(inputs, "omega_rad_per_s") / (2 * Math.PI), angle: degrees(phase) - 90 };
}

function ofShape(inputs: Inputs): Answers {
  const shape = SHAPES[text(inputs, "waveform")];
  if (shape === undefined) throw new Error(`no shape is called ${text(inputs, "waveform")}`);
  const { rms, averageRectified, formFactor, crestFactor } = amplitudes({ peak: number(inputs, "peak") }, shape);
  return {
    rms_over_peak: rms,
    average_rectified_over_peak: averageRectified,
    // A rectified wave is never negative: its mean is the mean of its magnitude.
    mean_over_peak: averageRectified,
    form_factor: formFactor,
    crest_factor: crestFactor,
  };
}

function ofSine(inputs: Inputs): Answers {
  const all = amplitudes({ rms: number(inputs, "rms_V") });
  return {
    peak_V: all.peak,
    peak_to_peak_V: all.peakToPeak,
    average_rectified_V: all.averageRectified,
    form_factor: all.formFactor,
    crest_factor: all.crestFactor,
    period_s: cyclesToSeconds(1, { frequency: number(inputs, "frequency_Hz") }),
  };
}

function ofTriangle(inputs: Inputs): Answers {
  const { rms, averageRectified } = amplitudes({ peak: number(inputs, "peak_V") }, "triangle");
  return { rms_exact_V: rms, average_V: averageRectified };
}

function amplitudesOf(inputs: Inputs, id: string): Answers {
  if ("waveform" in inputs) return ofShape(inputs);
  if ("rms_V" in inputs) return ofSine(inputs);
  if (id === "bird-14-4-triangle-midordinate") return ofTriangle(inputs);
  return { rms_A: amplitudes({ peak: number(inputs, "peak_A") }).rms };
}

/** The extremes stand at the crest and half a cycle later, at whatever frequency. */
function withDirectPart(inputs: Inputs): Answers {
  const frequency = 50;
  const wave = { rms: number(inputs, "ac_rms_V"), frequency, offset: number(inputs, "dc_V") };
  return { max_V: valueAt(wave, 0), min_V: valueAt(wave, cyclesToSeconds(0.5, { frequency })) };
}

/** Full offset: i = √2 · rms · (exp(−t/τ) − cos ωt). */
function withDecayingPart(inputs: Inputs): Answers {
  const rms = number(inputs, "sym_rms_A");
  const frequency = number(inputs, "frequency_Hz");
  const decay = { initial: amplitudes({ rms }).peak, tau: number(inputs, "tau_s") };
  const current = { rms, frequency, angle: 180, decay };
  return {
    half_cycle_value_A: valueAt(current, cyclesToSeconds(0.5, { frequency })),
    true_first_peak_A: valueAt(current, number(inputs, "peak_at_s")),
  };
}

function instantaneous(inputs: Inputs): Answers {
  if ("dc_V" in inputs) return withDirectPart(inputs);
  if ("tau_s" in inputs) return withDecayingPart(inputs);
  if ("peak_V" in inputs) {
    const voltage = sineWave(inputs, "peak_V");
    return { rms_V: voltage.rms, value_at_t_V: valueAt(voltage, number(inputs, "t_s")) };
  }
  const current = sineWave(inputs, "peak_A", number(inputs, "phase_rad"));
  return { i_at_0_A: valueAt(current, 0), i_at_8ms_A: valueAt(current, 0.008) };
}

/** The d.c. component alone; X/R is ωτ, so that one cycle is 2π/(X/R) time constants at any frequency. */
function directDecay(inputs: Inputs): Answers {
  const frequency = 50;
  const [xOverR, cycles] = [number(inputs, "X_over_R"), number(inputs, "cycles")];
  const decay = { initial: 1, tau: timeConstant({ xOverR, frequency }) };
  return {
    dc_fraction_of_ac_peak: valueAt({ rms: 0, frequency, decay }, cyclesToSeconds(cycles, { frequency })),
    rms_asym_over_sym: rmsFactorAt(xOverR, { cycles }),
  };
}

/** Amplitudes are peaks; a phase of the sine is a quarter cycle behind that of the cosine. */
function samplesOf(inputs: Inputs): Answers {
  const fits = "true_amplitude" in inputs;
  const rms = amplitudes({ peak: fits ? number(inputs, "true_amplitude") : 1 }).rms;
  const frequency = number(inputs, fits ? "true_frequency_Hz" : "f_Hz");
  const angle = fits ? number(inputs, "true_phase_deg_cosine") : number(inputs, "phase_deg_sine") - 90;
  const offset = number(inputs, fits ? "true_offset" : "dc");
  const range = { sampleRate: number(inputs, "fs_Hz"), count: number(inputs, "N") };
  return { samples: Array.from(sample({ rms, frequency, angle, offset }, range)) };
}

export const sinusoid: { readonly [table: string]: Ask } = {
  ...faultCurrents,
  ...fits,
  ...overWindows,
  ...tracks,
  "sinusoid/amplitudes": amplitudesOf,
  "sinusoid/instantaneous": instantaneous,
  "sinusoid/direct-current-decay": directDecay,
  "sinusoid/samples": samplesOf,
};
