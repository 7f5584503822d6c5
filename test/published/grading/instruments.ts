/** How the library is asked what instruments leave uncertain, and what they get wrong. */
import {
  bandwidthError,
  effectiveBits,
  lateContacts,
  magnitudeBias,
  quantization,
  skewAngle,
  statedAccuracy,
} from "tripwright/grading";
import { number, text } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";

/** Three ways in which the sources write a statement. */
export function statedAccuracies(inputs: Inputs): Answers {
  if ("spec" in inputs) return inWords(inputs);
  if ("absolute" in inputs) {
    const statement = { percentOfReading: number(inputs, "percent"), absolute: number(inputs, "absolute") };
    return {
      tolerance: statedAccuracy({ ...statement, combine: "greater" }, { reading: number(inputs, "value") }).limit,
    };
  }
  const { limit, standard } = statedAccuracy(
    {
      percentOfReading: number(inputs, "percent_of_reading"),
      percentOfRange: number(inputs, "percent_of_range"),
    },
    { reading: number(inputs, "reading"), range: number(inputs, "range") },
  );
  return { half_width: limit, u_rectangular: standard };
}

/** "0.06 % rdg + 0.03 % rng", for each degree outside "23+-5" "(0.006 % rdg + 0.003 % rng)/C outside". */
function inWords(inputs: Inputs): Answers {
  const parts = (words: string) => {
    const [percentOfReading = "", percentOfRange = ""] = words.match(/[\d.]+/g) ?? [];
    return { percentOfReading, percentOfRange };
  };
  const at = { reading: number(inputs, "reading_V"), range: number(inputs, "range_V") };
  const stated = parts(text(inputs, "spec"));
  if (!("tc" in inputs)) {
    const { limit, standard } = statedAccuracy(stated, at);
    return { spec_half_width_V: limit, u: standard };
  }
  const [middle = 0, half = 0] = text(inputs, "cal_T_C").split("+-").map(Number);
  const by = Math.abs(number(inputs, "T_C") - middle) - half;
  const { limit, standard } = statedAccuracy({ ...stated, outside: { ...parts(text(inputs, "tc")), by } }, at);
  return { linear_sum_half_width_V: limit, u_linear_sum: standard };
}

export function quantizations(inputs: Inputs): Answers {
  const bits = number(inputs, "bits");
  if (!("divisions" in inputs)) {
    const { signalToNoise } = quantization({ bits, span: 1 });
    return { snr_dB: signalToNoise, enob_back: effectiveBits(signalToNoise) };
  }
  const span = number(inputs, "divisions") * number(inputs, "V_per_div");
  const { step, standard } = quantization({ bits, span });
  return { LSB_V: step, u_quantisation_V: standard };
}

export function instrumentErrors(inputs: Inputs): Answers {
  if ("f3dB_Hz" in inputs) {
    const shown = bandwidthError({ frequency: number(inputs, "f_Hz"), bandwidth: number(inputs, "f3dB_Hz") });
    return {
      mag: shown.ratio,
      error_percent: shown.errorPercent,
      phase_deg: shown.angle,
      rise_time_s: shown.riseTime,
    };
  }
  if ("channel_skew_s" in inputs) {
    const angle = skewAngle({ delay: number(inputs, "channel_skew_s"), frequency: number(inputs, "f_Hz") });
    return { phase_error_deg: angle, phase_error_minutes: 60 * angle };
  }
  const longest = (name: string): number => Number(text(inputs, name).split("..")[1]);
  const { bias, standard } = lateContacts({ start: longest("start_late_s"), stop: longest("stop_late_s") });
  return { net_bias_s: bias, u_c: standard };
}

export function magnitudes(inputs: Inputs): Answers {
  const magnitude = Math.hypot(number(inputs, "re"), number(inputs, "im"));
  const { mean, standard } = magnitudeBias({ magnitude, standard: number(inputs, "u_re") });
  return { rice_mean: mean, rice_sd: standard };
}
