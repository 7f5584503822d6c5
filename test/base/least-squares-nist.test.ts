/** The kernel against the certified values of NIST (see nist/README.md), from both starting points of every set. */
import { describe, expect, test } from "vitest";
import { leastSquares } from "../../src/base/least-squares.js";
import { models } from "./nist/models.js";
import { type CertifiedSet, readSet, setNames } from "./nist/read-set.js";

/**
 * What is asked, as log relative errors. The certified values have 11 digits, so that even a perfect answer may show as
 * little as 10.3.
 */
const DIGITS = { parameters: 10, standardDeviations: 9, sumOfSquares: 10 };

/** Where less is asked, and why. */
const LESS: { readonly [set: string]: Partial<typeof DIGITS> } = {
  // Large residuals on a curved model: near the end Gauss–Newton shortens the error by a third in a step only, so that
  // more of it is left when the search is as close as it wants to be.
  ENSO: { parameters: 9 },
};

/** Where the search needs to be told something, and why. Everything else runs on its defaults. */
const TOLD: { readonly [start: string]: { readonly damping?: number; readonly iterationLimit?: number } } = {
  // Hardly damped, the first steps leap to b2 = −91 and on to 115, where exp(−b2·x) is 0 at every point: no way back.
  "BoxBOD from start 1": { damping: 100 },
  // The bottom of a narrow, bent valley leads by way of b1 = 1e-51: thousands of small steps.
  "MGH10 from start 1": { iterationLimit: 20_000 },
};

/** How many digits agree: −log10 of the relative error, of the worst value. */
const digits = (values: readonly number[], certified: readonly number[]): number =>
  Math.min(...certified.map((value, j) => -Math.log10(Math.abs(((values[j] as number) - value) / value))));

function solve(set: CertifiedSet, which: 0 | 1, told = TOLD[`${set.name} from start ${which + 1}`]) {
  const model = models[set.name] as (typeof models)[string];
  const [width, count] = [set.parameters.length, set.observations.length];
  const slopes = new Float64Array(width);
  return leastSquares({
    start: set.starts[which],
    count,
    evaluate: (b, residuals, jacobian) =>
      set.observations.forEach(({ y, x }, i) => {
        residuals[i] = model(b, x, slopes) - y;
        for (let j = 0; j < width; j++) jacobian[j * count + i] = slopes[j] as number;
      }),
    ...told,
  });
}

describe.each(setNames)("%s", (name) => {
  const set = readSet(name);
  const asked = { ...DIGITS, ...LESS[name] };

  test.each([
    ["start 1", 0],
    ["start 2", 1],
  ] as const)("comes out as certified from %s", (_start, which) => {
    const fit = solve(set, which);
    if (fit.kind === "none") throw new Error(fit.reason);
    const variance = fit.sumOfSquares / (set.observations.length - set.parameters.length);
    const deviations = fit.covariance.map((row, j) => Math.sqrt(variance * (row[j] as number)));
    expect(digits(fit.parameters, set.parameters)).toBeGreaterThanOrEqual(asked.parameters);
    expect(digits(deviations, set.standardDeviations)).toBeGreaterThanOrEqual(asked.standardDeviations);
    expect(digits([fit.sumOfSquares], [set.sumOfSquares])).toBeGreaterThanOrEqual(asked.sumOfSquares);
  });
});

test("a search that does not get there says so", () => {
  expect(solve(readSet("BoxBOD"), 0, {})).toEqual({ kind: "none", reason: "stalled" });
  expect(solve(readSet("MGH10"), 0, {})).toEqual({ kind: "none", reason: "iteration-limit" });
});
