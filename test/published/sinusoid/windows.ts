/** Rms and mean over windows, and what meters show for shapes and samples. */
import {
  amplitudes,
  cyclesToSeconds,
  firstPeak,
  meanOver,
  meterReading,
  rmsOver,
  type Shape,
  type Sinusoid,
} from "tripwright/sinusoid";
import { number, numbers, text } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";

const FREQUENCY = 50;
const after = (cycles: number): number => cyclesToSeconds(cycles, { frequency: FREQUENCY });

/** Peaks of harmonics of sines, orders beside them, as a sinusoid. */
function ofPeaks(inputs: Inputs, peaks: string): Sinusoid {
  const orders = numbers(inputs, "orders");
  const waves = numbers(inputs, peaks).map((peak, i) => ({
    order: Number(orders[i]),
    rms: amplitudes({ peak }).rms,
    angle: -90,
  }));
  return { rms: 0, frequency: FREQUENCY, harmonics: waves };
}

const CYCLE = { from: 0, to: after(1) };

function wholeCycles(inputs: Inputs): Answers {
  if ("dc_V" in inputs) {
    const wave = { rms: number(inputs, "ac_rms_V"), frequency: FREQUENCY, offset: number(inputs, "dc_V") };
    const [rms, { peak }] = [rmsOver(wave, CYCLE), firstPeak(wave)];
    return { total_rms_V: rms, peak_abs_V: peak, crest_factor: peak / rms };
  }
  if ("peaks_mA" in inputs) return { rms_mA: rmsOver(ofPeaks(inputs, "peaks_mA"), CYCLE) };
  if ("peaks_V" in inputs) {
    const wave = ofPeaks(inputs, "peaks_V");
    const [rms, mean] = [rmsOver(wave, CYCLE), meanOver(wave, { from: 0, to: after(0.5) })];
    return { rms_V: rms, mean_half_cycle_V: mean, form_factor: rms / mean };
  }
  return {
    v_rms_V: rmsOver(ofPeaks(inputs, "v_peaks_V"), CYCLE),
    i_rms_A: rmsOver(ofPeaks(inputs, "i_peaks_A"), CYCLE),
  };
}

/** A fundamental of 1 V peak with its harmonics, scaled to the rms value that is given. */
function split(inputs: Inputs): Answers {
  const [third, fifth] = [number(inputs, "h3_over_h1"), number(inputs, "h5_over_h1")];
  const wave = ofPeaks({ peaks: [1, third, fifth], orders: [1, 3, 5] }, "peaks");
  const first = number(inputs, "total_rms_V") / rmsOver(wave, CYCLE);
  return { h1_peak_V: first, h3_peak_V: third * first, h5_peak_V: fifth * first };
}

/** The heat of the d.c. component: κ − 1 is what is left of it after half a cycle, over the peak; the current is 1 A. */
function thermal(inputs: Inputs): Answers {
  const frequency = number(inputs, "f_Hz");
  const tau = -cyclesToSeconds(0.5, { frequency }) / Math.log(number(inputs, "kappa") - 1);
  const direct = { rms: 0, frequency, decay: { initial: Math.SQRT2, tau } };
  const rms = rmsOver(direct, { from: 0, to: number(inputs, "Tk_s") });
  return { m: rms ** 2, Ith_over_Ikss_if_n_1: Math.hypot(1, rms) };
}

function windows(inputs: Inputs): Answers {
  if ("kappa" in inputs) return thermal(inputs);
  if ("total_rms_V" in inputs) return split(inputs);
  if (!("cycles" in inputs)) return wholeCycles(inputs);
  const wave = { rms: 1, frequency: 1, angle: number(inputs, "phase_deg") };
  const window = { from: 0, to: number(inputs, "cycles") };
  return { window_rms: rmsOver(wave, window), window_mean: meanOver(wave, window) };
}

const SHAPES: { readonly [reference: string]: Shape } = {
  "half-wave-rectified-sine": "half-wave",
  "full-wave-rectified-sine": "full-wave",
};

/** What is left of a wave without its mean, over the mean, is called its ripple. */
function rectified(inputs: Inputs): Answers {
  const wave = { peak: number(inputs, "peak"), shape: SHAPES[text(inputs, "waveform")] as Shape };
  const alternating = meterReading(wave, { kind: "true-rms", coupling: "ac" });
  return {
    rms_over_peak: meterReading(wave, "true-rms"),
    ac_rms_over_peak: alternating,
    ripple_factor: alternating / amplitudes({ peak: wave.peak }, wave.shape).averageRectified,
  };
}

/** The mean of what is never negative is that of its magnitude: the reading without the scale for a sine. */
function ofSamples(samples: readonly number[]) {
  const rms = meterReading(samples, "true-rms");
  const ac = meterReading(samples, { kind: "true-rms", coupling: "ac" });
  const mean =
    meterReading(samples, { kind: "average-responding", coupling: "ac+dc" }) / amplitudes({ rms: 1 }).formFactor;
  const peak = Math.SQRT2 * meterReading(samples, { kind: "peak-responding", coupling: "ac+dc" });
  return { rms, ac, mean, peak };
}

function meterReadings(inputs: Inputs): Answers {
  if ("waveform" in inputs) return rectified(inputs);
  if ("ordinates" in inputs) {
    const { rms, mean } = ofSamples(numbers(inputs, "ordinates"));
    return { rms_mid_ordinate_V: rms, form_factor_mid_ordinate: rms / mean, mean_A: mean, rms_A: rms };
  }
  const [high, low, duty] = [number(inputs, "peak"), number(inputs, "low"), number(inputs, "duty")];
  const { rms, ac, mean, peak } = ofSamples(Array.from({ length: 100 }, (_, i) => (i < 100 * duty ? high : low)));
  return {
    mean_over_peak: mean / high,
    rms_over_peak: rms / high,
    form_factor: rms / mean,
    crest_factor: peak / rms,
    ripple_factor: ac / mean,
  };
}

export const overWindows: { readonly [table: string]: Ask } = {
  "sinusoid/windows": windows,
  "sinusoid/meter-readings": meterReadings,
};
