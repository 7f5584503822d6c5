/** How the library is asked about repeated readings, of one day and of several, and along a line. */
import {
  betweenGroups,
  combineUncertainty,
  degreesOfFreedomFrom,
  deviationUncertainty,
  fitLine,
  repeatability,
  valueOnLine,
} from "tripwright/grading";
import { number, numbers } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";

export function repeatedShots(inputs: Inputs): Answers {
  const nominal = number(inputs, "nominal");
  const found = repeatability(numbers(inputs, "values"), { nominal });
  return {
    n: found.count,
    mean: found.mean,
    min: found.minimum,
    max: found.maximum,
    range: found.spread,
    median: found.median,
    mean_error_percent: found.errors?.meanPercent ?? Number.NaN,
    worst_error_percent: found.errors?.worstPercent ?? Number.NaN,
    sd_sample: found.standardDeviation ?? Number.NaN,
    sd_of_mean: found.standardUncertainty ?? Number.NaN,
    t95_half_width_of_mean: found.expandedUncertainty ?? Number.NaN,
  };
}

export function deviationUncertainties(inputs: Inputs): Answers {
  if ("rel_uncertainty_of_u" in inputs) return { nu: degreesOfFreedomFrom(number(inputs, "rel_uncertainty_of_u")) };
  const ratio = deviationUncertainty(number(inputs, "n"));
  return { rel_sd_percent_over_mean_s: 100 * ratio, c4: 1 / Math.hypot(1, ratio) };
}

/** The source prints means and deviations; readings that have them stand for those that are not printed. */
export function groups(inputs: Inputs): Answers {
  const [means, deviations] = [numbers(inputs, "means_uV_above_10V"), numbers(inputs, "sd_uV")];
  const days = means.map((mean, i) => readingsLike(mean, deviations[i] as number));
  const { mean, within, between, ratio, chance, standard, degreesBetween } = betweenGroups(days);
  return {
    grand_mean_uV_above_10V: mean,
    sd_of_daily_means_uV: standard * Math.sqrt(days.length),
    sd_mean_of_means_uV: standard,
    pooled_within_sd_uV: within,
    sa_uV: within * Math.sqrt(ratio ?? Number.NaN),
    F: ratio ?? Number.NaN,
    s_between_uV: between,
    chance_of_F: chance ?? Number.NaN,
    F95_9_40: ratioOfChance(0.05, degreesBetween + 1),
    F975_9_40: ratioOfChance(0.025, degreesBetween + 1),
  };
}

/** Five readings with a mean and a deviation. */
const readingsLike = (mean: number, deviation: number): number[] =>
  [-2, -1, 0, 1, 2].map((x) => mean + deviation * x * Math.sqrt(2 / 5));

/** The ratio that has a chance, from groups whose means are drawn apart until theirs has it. */
function ratioOfChance(wanted: number, count: number): number {
  const apart = (by: number) => betweenGroups(Array.from({ length: count }, (_, i) => readingsLike(by * i, 1)));
  let [low, high] = [0, 10];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if ((apart(middle).chance ?? Number.NaN) > wanted) low = middle;
    else high = middle;
  }
  return apart(low).ratio ?? Number.NaN;
}

export function line(inputs: Inputs): Answers {
  const [temperatures, corrections, from] = [numbers(inputs, "t_C"), numbers(inputs, "b_C"), number(inputs, "t0_C")];
  const found = fitLine(temperatures.map((t, i) => ({ x: t - from, y: corrections[i] as number })));
  if (found.kind === "none") return {};
  const { value, standard } = valueOnLine(found, number(inputs, "at_C") - from);
  return {
    y1: found.intercept,
    s_y1: found.interceptStandard,
    y2: found.slope,
    s_y2: found.slopeStandard,
    r: found.correlation,
    s: found.residual,
    b_30: value,
    u_b_30: standard,
  };
}

/** Rectangles given by their standard deviations, taken together as the GUM does: as if the sum were normal. */
export function sumsOfRectangles(inputs: Inputs): Answers {
  const deviations =
    "n" in inputs
      ? Array.from({ length: number(inputs, "n") }, () => number(inputs, "each_std"))
      : numbers(inputs, "stds");
  const { standard, expanded } = combineUncertainty({
    contributions: deviations.map((deviation, i) => ({
      name: `X${i + 1}`,
      halfWidth: Math.sqrt(3) * deviation,
      distribution: "rectangular",
    })),
  });
  return { u: standard, guf_y975: expanded };
}
