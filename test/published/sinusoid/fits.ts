/** What is fitted to samples: sinusoids, whole cycles, distortion. */
import { InputError } from "tripwright";
import { fitSinusoid, harmonics, measure, type SinusoidFit, sample, thd } from "tripwright/sinusoid";
import { number, numbers } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";

/** Whether the library takes it; any error but that of a wrong input is a mistake of the test. */
function isTaken(work: () => unknown): boolean {
  try {
    work();
    return true;
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

function fitted(samples: readonly number[], inputs: Inputs, fixedFrequency: boolean): SinusoidFit {
  const [sampleRate, frequency] = [number(inputs, "fs_Hz"), number(inputs, "true_frequency_Hz")];
  const fit = fitSinusoid(samples, { sampleRate, frequency, fixedFrequency });
  if (fit.kind === "none") throw new Error(`no fit: ${fit.reason}`);
  return fit;
}

/** The references write A · cos(ωt) + B · sin(ωt) + C from the first sample. */
function ofBothFits(inputs: Inputs): Answers {
  const samples = numbers(inputs, "samples");
  const [three, four] = [fitted(samples, inputs, true), fitted(samples, inputs, false)];
  const phase = (three.angle * Math.PI) / 180;
  const peak = three.rms * Math.SQRT2;
  return {
    fit3_A_cos: peak * Math.cos(phase),
    fit3_B_sin: -peak * Math.sin(phase),
    fit3_offset: three.offset,
    fit3_amplitude: peak,
    fit3_phase_deg: three.angle,
    fit3_rms_residual: three.residualRms,
    fit4_frequency_Hz: four.frequency,
    fit4_amplitude: four.rms * Math.SQRT2,
    fit4_phase_deg: four.angle,
    fit4_offset: four.offset,
    fit4_rms_residual: four.residualRms,
  };
}

function sineFits(inputs: Inputs): Answers {
  if ("true_amplitude" in inputs) return ofBothFits(inputs);
  if ("parameters" in inputs) {
    const samples = [0, 1, 0].slice(0, number(inputs, "N"));
    const known = { sampleRate: 3, frequency: 1, fixedFrequency: number(inputs, "parameters") < 4 };
    return { solvable: isTaken(() => fitSinusoid(samples, known)) };
  }
  const { frequency } = measure(numbers(inputs, "samples"), { sampleRate: number(inputs, "fs_Hz") });
  return { frequency_linear_interp_Hz: Number(frequency) };
}

/** M cycles in N samples: as a record that is taken for whole cycles, and as a frequency that is found in it. */
function coherent(inputs: Inputs): Answers {
  const [count, cycles, sampleRate] = [number(inputs, "N"), number(inputs, "M"), number(inputs, "fs_Hz")];
  const samples = sample({ rms: 1, frequency: cycles }, { sampleRate: count, count });
  const frequency = (cycles * sampleRate) / count;
  return {
    f_Hz: Number(measure(samples, { sampleRate }).frequency),
    coherent_integer_cycles: isTaken(() => harmonics(samples, { sampleRate, frequency })),
  };
}

/** Peaks or rms values alike; orders where there are any, else 1, 2, 3. */
function distortion(inputs: Inputs): Answers {
  const { thdF = Number.NaN, thdR = Number.NaN } = thd(spectrumOf(inputs));
  const answers = { thd_f: thdF, thd_r: thdR, thd_f_percent: 100 * thdF, thd_r_percent: 100 * thdR };
  return { ...answers, rms_over_h1_rms: thdF / thdR, thd_f_max_order_50: Number(thd(squareUpTo(50)).thdF) };
}

function spectrumOf(inputs: Inputs) {
  if ("waveform" in inputs) return squareUpTo("max_order" in inputs ? number(inputs, "max_order") : 9_999);
  if ("h3_over_h1" in inputs)
    return [
      { order: 1, rms: 1 },
      { order: 3, rms: number(inputs, "h3_over_h1") },
      { order: 5, rms: number(inputs, "h5_over_h1") },
    ];
  const orders = "orders" in inputs ? numbers(inputs, "orders") : [1, 2, 3, 4];
  return numbers(inputs, "orders" in inputs ? "peaks_V" : "amplitudes").map((rms, i) => ({
    order: Number(orders[i]),
    rms,
  }));
}

/** The odd harmonics of a square wave are one over their order. */
const squareUpTo = (highest: number) =>
  Array.from({ length: Math.ceil(highest / 2) }, (_, i) => ({ order: 2 * i + 1, rms: 1 / (2 * i + 1) }));

export const fits: { readonly [table: string]: Ask } = {
  "sinusoid/sine-fits": sineFits,
  "sinusoid/coherent-sampling": coherent,
  "sinusoid/distortion": distortion,
};
