import { correlate } from "./correlate.js";
import { lively } from "./liveliest.js";

const CYCLES = 4;
const RATIO = 1.1;
/** Of the power of the strongest. */
const STRONG = 0.3;
const MOST = 3;

/**
 * The strong components from the lowest up, three at most, in cycles a sample, to a tenth or so. Candidates lie a tenth apart, from one
 * cycle in the record up to half the sample rate, each on four cycles of its own (or as many as there are) where the record
 * is lively. The lowest first, since in a wave of short pulses harmonics are as strong as the fundamental.
 */
export function strongSteps(values: Float64Array, energy: Float64Array): readonly number[] {
  const count = values.length;
  const mean = values.reduce((sum, x) => sum + x, 0) / count;
  const rest = values.map((x) => x - mean);
  const steps: number[] = [];
  for (let step = 1 / count; step < 0.5 - 0.5 / count; step *= RATIO) steps.push(step);
  const powers = steps.map((step) => {
    const reach = Math.min(count, Math.round(CYCLES / step));
    const from = lively(energy, reach);
    const { cosine, sine } = correlate(rest.subarray(from, from + reach), step);
    return (cosine * cosine + sine * sine) / reach / reach;
  });
  const strong = STRONG * Math.max(...powers);
  const crest = (i: number) => !(powers[i - 1]! >= powers[i]!) && !(powers[i + 1]! > powers[i]!);
  return steps.filter((_, i) => powers[i]! >= strong && crest(i)).slice(0, MOST);
}
