/** Fault currents with a decaying d.c. component: peaks, X/R, power factors, what rating tables make of them. */
import {
  amplitudes,
  cyclesToSeconds,
  exactPeakFactor,
  firstPeak,
  offsetSinusoid,
  peakFactor,
  rmsFactorAt,
  rmsOver,
  type Sinusoid,
  valueAt,
  xOverROf,
} from "tripwright/sinusoid";
import { number } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";

/** No table depends on it where only X/R is given. */
const FREQUENCY = 50;
const after = (cycles: number, frequency = FREQUENCY): number => cyclesToSeconds(cycles, { frequency });

/** Full offset for each phase of a fault at a voltage zero of one of them, in a circuit that is nearly all reactance. */
const offset = (xOverR: number, angle = 180): Sinusoid =>
  offsetSinusoid({ rms: 1, frequency: FREQUENCY, angle, xOverR });
const halfCyclePeak = (xOverR: number): number => valueAt(offset(xOverR), after(0.5));
const directAt = ({ decay, offset = 0 }: Sinusoid, t: number): number =>
  valueAt({ rms: 0, frequency: FREQUENCY, offset, ...(decay && { decay }) }, t);

function peakFactors(inputs: Inputs): Answers {
  if ("R" in inputs) return { peak_over_rms: Math.SQRT2 * exactPeakFactor(Number.POSITIVE_INFINITY) };
  const kappa = peakFactor(1 / number(inputs, "R_over_X"));
  return { kappa, peak_over_rms: amplitudes({ rms: kappa }).peak };
}

function asymmetry(inputs: Inputs): Answers {
  if ("pf" in inputs) {
    const X_over_R = xOverROf({ powerFactor: number(inputs, "pf") });
    return { X_over_R, X_over_R_rounded: X_over_R };
  }
  const xOverR = xOverROf({ powerFactor: number(inputs, "short_circuit_pf") });
  const phases = [180, 60, -60].map((angle) => Math.hypot(1, directAt(offset(xOverR, angle), after(0.5))));
  return {
    X_over_R_from_pf: xOverR,
    peak_exact_formula: amplitudes({ rms: exactPeakFactor(xOverR) }).peak,
    rms_1ph: rmsFactorAt(xOverR, { cycles: 0.5 }),
    rms_3ph_avg: phases.reduce((sum, rms) => sum + rms / 3, 0),
  };
}

function dutyFactors(inputs: Inputs): Answers {
  if ("tau_ms" in inputs) {
    const tau = number(inputs, "tau_ms") / 1000;
    return { peak_factor: halfCyclePeak(xOverROf({ tau, frequency: number(inputs, "f_Hz") })) };
  }
  const xOverR = number(inputs, "X_over_R");
  const peak = halfCyclePeak(xOverR);
  if ("test_pf" in inputs) return { MF: peak / halfCyclePeak(xOverROf({ powerFactor: number(inputs, "test_pf") })) };
  const rms = rmsFactorAt(xOverR, { cycles: 0.5 });
  const [unfused, fused] = [0.15, 0.2].map((powerFactor) => xOverROf({ powerFactor })) as [number, number];
  return {
    rms_factor: rms,
    peak_factor: peak,
    MF_unfused_before_floor: peak / halfCyclePeak(unfused),
    MF_unfused_with_2_29: peak / 2.29,
    MF_fused: rms / rmsFactorAt(fused, { cycles: 0.5 }),
    MF_fused_with_1_25: rms / 1.25,
  };
}

function fullOffset(inputs: Inputs): Answers {
  const [rms, frequency, tau] = [number(inputs, "sym_rms_A"), number(inputs, "frequency_Hz"), number(inputs, "tau_s")];
  const current = offsetSinusoid({ rms, frequency, angle: 180, tau });
  const { peak, time } = firstPeak(current);
  const xOverR = xOverROf({ tau, frequency });
  const half = valueAt(current, after(0.5, frequency));
  const symmetrical = amplitudes({ rms }).peak;
  const rmsAlong = (from: number, to: number): number =>
    rmsOver(current, { from: after(from, frequency), to: after(to, frequency) });
  return {
    x_over_r: xOverR,
    half_cycle_value_A: half,
    true_first_peak_A: peak,
    true_first_peak_time_s: time,
    half_cycle_factor: half / symmetrical,
    kappa_IEC60909: peakFactor(xOverR),
    rms_first_cycle_A: rmsAlong(0, 1),
    rms_second_cycle_A: rmsAlong(1, 2),
    rms_first_half_cycle_A: rmsAlong(0, 0.5),
    asym_rms_at_half_cycle_A: rms * rmsFactorAt(xOverR, { cycles: 0.5 }),
    dc_percent_at_10ms: (100 * directAt(current, 0.01)) / symmetrical,
    dc_percent_at_1cycle: (100 * directAt(current, after(1, frequency))) / symmetrical,
  };
}

/** R and L in series on a voltage that is at its zero crossing. */
function switched(inputs: Inputs): Answers {
  const [r, l, frequency] = [number(inputs, "R_ohm"), number(inputs, "L_H"), number(inputs, "f_Hz")];
  const tau = l / r;
  const volts = "E_rms_V" in inputs ? number(inputs, "E_rms_V") : amplitudes({ peak: number(inputs, "E_peak_V") }).rms;
  const rms = volts / (r * Math.hypot(1, xOverROf({ tau, frequency })));
  const current = offsetSinusoid({ rms, frequency, inception: 0, tau });
  const direct = (cycles: number): number => directAt(current, after(cycles, frequency));
  if ("t_s" in inputs) return { i_transient_A: directAt(current, number(inputs, "t_s")) };
  return { i0_A: direct(0), i_half_cycle_A: direct(0.5), i_1_5_cycles_A: direct(1.5), i_5_5_cycles_A: direct(5.5) };
}

function offsetCurrents(inputs: Inputs): Answers {
  if ("sym_rms_A" in inputs) return fullOffset(inputs);
  if ("R_ohm" in inputs) return switched(inputs);
  const current = offsetSinusoid({
    rms: number(inputs, "If_pu"),
    frequency: FREQUENCY,
    inception: 0,
    xOverR: Number.POSITIVE_INFINITY,
  });
  return { dc_max_pu: directAt(current, 0), peak_max_pu: firstPeak(current).peak };
}

export const faultCurrents: { readonly [table: string]: Ask } = {
  "sinusoid/peak-factors": peakFactors,
  "sinusoid/asymmetry": asymmetry,
  "sinusoid/duty-factors": dutyFactors,
  "sinusoid/offset-currents": offsetCurrents,
};
