import { correlate } from "./correlate.js";

const CYCLES = 4;
const RATIO = 1.1;
/** Of the power of the strongest. */
const STRONG = 0.3;

/**
 * The lowest strong component, in cycles a sample, to a tenth or so. Candidates lie a tenth apart, from one cycle in the
 * record up to half the sample rate, each on four cycles of its own (or as many as there are) in the middle of the
 * record. The lowest, since in a wave of short pulses harmonics are as strong as the fundamental.
 */
export function strongestStep(values: Float64Array): number {
  const count = values.length;
  const mean = values.reduce((sum, x) => sum + x, 0) / count;
  const rest = values.map((x) => x - mean);
  const steps: number[] = [];
  for (let step = 1 / count; step < 0.5 - 0.5 / count; step *= RATIO) steps.push(step);
  const powers = steps.map((step) => {
    const reach = Math.min(count, Math.round(CYCLES / step));
    const from = (count - reach) >> 1;
    const { cosine, sine } = correlate(rest.subarray(from, from + reach), step);
    return (cosine * cosine + sine * sine) / reach / reach;
  });
  const strong = STRONG * Math.max(...powers);
  return steps[powers.findIndex((power, i) => power >= strong && !(powers[i + 1]! > power))]!;
}
