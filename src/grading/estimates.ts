import { fail, finite, list, object } from "../base/check.js";
import type { Correlation } from "./combine-uncertainty.js";
import { deviation, meanOf } from "./mean.js";
import type { Estimates } from "./propagate.js";

/** Means of quantities that were read together, as `propagate` takes them. */
export interface EstimatesTogether {
  readonly inputs: Estimates;
  /** For each two quantities; absent where one of them never moved. */
  readonly correlations: readonly Correlation[];
}

/**
 * The means of quantities that were read together several times, their standard uncertainties, and how they correlate: two
 * meters that follow the same drifting source do.
 *
 *     u = s/√n,   r = Σ (x − x̄)·(y − ȳ) / ((n − 1)·s_x·s_y)
 *
 * @param readings - By name, as many of each, two or more; those of one place belong together.
 * @throws A {@link InputError} with the place of a reading that is not finite, and for lists of different length.
 * Accuracy: 1e-15 of the spread of the readings.
 * @source JCGM 100:2008 4.2, 5.2.3 and H.2
 *
 * @example
 * import { estimatesOf, propagate } from "tripwright/grading";
 * const { inputs, correlations } = estimatesOf({ volts: [10.1, 10.3, 10.2], amperes: [2.02, 2.06, 2.04] });
 * correlations[0]?.coefficient.toFixed(6); // → "1.000000"
 * const ohms = propagate(({ volts, amperes }) => Number(volts) / Number(amperes), inputs, { correlations, coverageFactor: 2 });
 * ohms.standard < 1e-9; // → true
 */
export function estimatesOf(readings: { readonly [name: string]: readonly number[] }): EstimatesTogether {
  object(readings, "readings", "lists of readings by name");
  const names = Object.keys(readings);
  const count = readings[names[0] ?? ""]?.length ?? 0;
  const series = names.map((name) => {
    const path = `readings.${name}`;
    const what = `a list of ${Math.max(2, count)} readings`;
    const given = list(readings[name] as readonly number[], path, what, 2);
    if (given.length !== count) fail("wrong-length", path, what, given);
    for (const [i, reading] of given.entries()) finite(reading, `${path}[${i}]`, "a reading");
    const mean = meanOf(given);
    const scatter = finite(deviation(given, mean), path, "readings whose scatter fits a double");
    return { name, mean, deviation: scatter, apart: given.map((reading) => reading - mean) };
  });
  const root = Math.sqrt(count);
  return {
    inputs: Object.fromEntries(
      series.map(({ name, mean, deviation }) => {
        return [name, { value: mean, standard: deviation / root, degreesOfFreedom: count - 1 }];
      }),
    ),
    correlations: series.flatMap((x, i) =>
      series.slice(i + 1).flatMap((y): Correlation[] => {
        if (x.deviation === 0 || y.deviation === 0) return [];
        // Each in units of its own deviation, so that no product leaves the range of a double.
        const sum = x.apart.reduce((all, apart, n) => {
          return all + (apart / x.deviation) * ((y.apart[n] as number) / y.deviation);
        }, 0);
        return [{ between: [x.name, y.name], coefficient: Math.max(-1, Math.min(1, sum / (count - 1))) }];
      }),
    ),
  };
}
