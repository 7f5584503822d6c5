import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type LeastSquaresProblem, leastSquares } from "../../src/base/least-squares.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";

type Row = readonly [residual: number, ...slopes: number[]];

/** A problem whose residuals are told one by one. */
const problem = (
  count: number,
  start: readonly number[],
  row: (parameters: Float64Array, i: number) => Row,
): LeastSquaresProblem => ({
  start,
  count,
  evaluate: (parameters, residuals, jacobian) => {
    for (let i = 0; i < count; i++) {
      const [residual, ...slopes] = row(parameters, i);
      residuals[i] = residual;
      for (const [j, slope] of slopes.entries()) jacobian[j * count + i] = slope;
    }
  },
});

/** a·exp(−b·t) at t = 0, 0.1 … against given values. */
const decay = (values: readonly number[], start: readonly number[]) =>
  problem(values.length, start, ([a = 0, b = 0], i) => {
    const fall = Math.exp((-b * i) / 10);
    return [a * fall - (values[i] as number), fall, ((-a * i) / 10) * fall];
  });

function found(given: LeastSquaresProblem) {
  const fit = leastSquares(given);
  if (fit.kind === "none") throw new Error(fit.reason);
  return fit;
}

const share = fc.double({ min: 0, max: 1, noNaN: true });
const noisyDecays = fc
  .record({
    a: share.map((x) => 0.1 + 10 * x),
    b: share.map((x) => 0.2 + 3 * x),
    noise: fc.array(share, { minLength: 6, maxLength: 30 }),
    size: fc.constantFrom(0, 1e-6, 0.02),
  })
  .map(({ a, b, noise, size }) => ({
    a,
    b,
    size,
    values: noise.map((x, i) => a * (Math.exp((-b * i) / 10) + size * (x - 0.5))),
  }));

describe("the least sum of squares", () => {
  test("is at what generated the values, where nothing disturbs them", () => {
    holds(
      fc.property(noisyDecays, share, share, ({ a, b, values, size }, near, far) => {
        fc.pre(size === 0);
        const fit = found(decay(values, [a * (0.3 + 2 * near), b * (0.3 + 2 * far)]));
        expect(Math.abs((fit.parameters[0] as number) / a - 1)).toBeLessThan(1e-12);
        expect(Math.abs((fit.parameters[1] as number) / b - 1)).toBeLessThan(1e-12);
      }),
    );
  });

  test("is stationary: the residuals have nothing along any column that doubles can still show", () => {
    holds(
      fc.property(noisyDecays, ({ a, b, values, size }) => {
        fc.pre(size > 0);
        const given = decay(values, [a, b]);
        const fit = found(given);
        const [residuals, jacobian] = [new Float64Array(values.length), new Float64Array(2 * values.length)];
        given.evaluate(Float64Array.from(fit.parameters), residuals, jacobian);
        for (const j of [0, 1]) {
          const slopes = jacobian.subarray(j * values.length, (j + 1) * values.length);
          const along = residuals.reduce((sum, r, i) => sum + r * (slopes[i] as number), 0) / Math.hypot(...slopes);
          // What the search asks for, and what the rounding of values up to a leaves of it.
          expect(Math.abs(along)).toBeLessThan(1e-10 * Math.hypot(...residuals) + 1e-14 * a * Math.sqrt(values.length));
        }
        const length = Math.hypot(...residuals);
        const blur = 1e-12 * length + 1e-15 * a * Math.sqrt(values.length);
        expect(Math.abs(Math.sqrt(fit.sumOfSquares) - length)).toBeLessThan(blur);
      }),
    );
  });

  test("does not depend on the units of the parameters, not by a bit", () => {
    holds(
      fc.property(noisyDecays, fc.integer({ min: -40, max: 40 }), ({ a, b, values }, power) => {
        const unit = 2 ** power;
        const plain = decay(values, [a, 2 * b]);
        const one = found(plain);
        const other = found({
          ...plain,
          start: [a / unit, 2 * b],
          evaluate: (parameters, residuals, jacobian) => {
            plain.evaluate(
              parameters.map((x, j) => (j === 0 ? x * unit : x)),
              residuals,
              jacobian,
            );
            for (let i = 0; i < values.length; i++) jacobian[i] = unit * (jacobian[i] as number);
          },
        });
        expect(other.iterations).toBe(one.iterations);
        expect((other.parameters[0] as number) * unit).toBe(one.parameters[0]);
        expect(other.parameters[1]).toBe(one.parameters[1]);
      }),
    );
  });

  test("is the same where many residuals come as the triangle of their products", () => {
    // y = m·x with y = 1, 2, 4 at x = 1, 2, 3: m = 17/14, the sum of squares 21 − 17²/14; √14 and so on by hand.
    const few = found(
      problem(2, [0], ([m = 0], i) =>
        i === 0 ? [(m * 14 - 17) / Math.sqrt(14), Math.sqrt(14)] : [Math.sqrt(21 - 289 / 14), 0],
      ),
    );
    const many = found(problem(3, [0], ([m = 0], i) => [m * (i + 1) - ([1, 2, 4][i] as number), i + 1]));
    for (const fit of [few, many]) {
      expect(ulps(fit.parameters[0] as number, 17 / 14)).toBeLessThanOrEqual(4);
      expect(fit.sumOfSquares).toBeCloseTo(21 - 289 / 14, 12);
      expect(fit.covariance[0]?.[0]).toBeCloseTo(1 / 14, 14);
    }
  });

  test("is found through the bent valley that is known for stopping searches", () => {
    // H. H. Rosenbrock, The Computer Journal 3 (1960): 100·(y − x²)² + (1 − x)² from (−1.2, 1), least at (1, 1).
    const fit = found(
      problem(2, [-1.2, 1], ([x = 0, y = 0], i) => (i === 0 ? [10 * (y - x * x), -20 * x, 10] : [1 - x, -1, 0])),
    );
    expect(fit.parameters[0]).toBeCloseTo(1, 14);
    expect(fit.parameters[1]).toBeCloseTo(1, 14);
  });
});

describe("the search", () => {
  test("stops when it is done: a straight problem takes a handful of steps", () => {
    for (const noise of [0, 1]) {
      const straight = problem(20, [0, 0], ([a = 0, b = 0], i) => [
        a + b * i - (3 + 0.5 * i + noise * Math.sin(i)),
        1,
        i,
      ]);
      // The columns are 30° apart: a step leaves at most damping/0.13 of the error, a hundredth first, then ever less.
      expect(found(straight).iterations).toBeLessThanOrEqual(6);
    }
  });

  test("evaluates once for each step and once at the start, into the same arrays", () => {
    const given = decay([3, 2.4, 2, 1.7, 1.3], [1, 1]);
    const seen = new Set<Float64Array>();
    let calls = 0;
    const fit = found({
      ...given,
      evaluate: (parameters, residuals, jacobian) => {
        calls++;
        seen.add(residuals).add(jacobian);
        given.evaluate(parameters, residuals, jacobian);
      },
    });
    expect(calls).toBe(fit.iterations + 1);
    expect(seen.size).toBe(2);
  });

  test("ends where the residuals round more than it can know, because a constant hides in them", () => {
    holds(
      fc.property(noisyDecays, fc.constantFrom(10, 1e3, 1e5), ({ a, b, values, size }, times) => {
        fc.pre(size > 0);
        const hidden = times * a;
        const raised = values.map((value) => value + hidden);
        const given = decay(values, [a, b]);
        const plain = found(given);
        // What rounding the hidden constant does to all residuals together; it must hide less than the search looks for.
        const [noise, spread] = [2e-16 * hidden * Math.sqrt(values.length), Math.sqrt(plain.sumOfSquares)];
        fc.pre(10 * noise * spread < Math.max(1e-5 * spread, 1e-9 * a) ** 2);
        const fit = found({
          ...given,
          evaluate: (parameters, residuals, jacobian) => {
            given.evaluate(parameters, residuals, jacobian);
            for (let i = 0; i < values.length; i++) {
              const value = (residuals[i] as number) + (values[i] as number);
              residuals[i] = value + hidden - (raised[i] as number);
            }
          },
        });
        // What that does to a parameter, besides what the search leaves.
        for (const j of [0, 1]) {
          const gap = Math.abs((fit.parameters[j] as number) - (plain.parameters[j] as number));
          const deviation = Math.sqrt(plain.covariance[j]?.[j] as number);
          expect(gap).toBeLessThan(deviation * (10 * noise + 1e-3 * spread + 1e-8 * a));
        }
        expect(fit.iterations).toBeLessThan(60);
      }),
    );
  });

  test("ends where the derivatives are good to eight digits only", () => {
    holds(
      fc.property(noisyDecays, ({ a, b, values, size }) => {
        fc.pre(size > 0);
        const given = decay(values, [a, b]);
        const plain = found(given);
        const fit = found({
          ...given,
          evaluate: (parameters, residuals, jacobian) => {
            given.evaluate(parameters, residuals, jacobian);
            // As if by differences: off by something that changes from place to place.
            for (let i = 0; i < jacobian.length; i++)
              jacobian[i] = (jacobian[i] as number) * (1 + 1e-8 * Math.sin(1e12 * ((parameters[1] as number) + i)));
          },
        });
        for (const j of [0, 1]) {
          const gap = Math.abs((fit.parameters[j] as number) - (plain.parameters[j] as number));
          const deviation = Math.sqrt((plain.covariance[j]?.[j] as number) * plain.sumOfSquares);
          expect(gap).toBeLessThan(1e-5 * deviation + 1e-12);
        }
        expect(fit.iterations).toBeLessThan(60);
      }),
    );
  });

  test("turns back where the parameters make no sense", () => {
    const root = problem(5, [1], ([x = 0], i) => [(Math.sqrt(x) - 0.01) * (i + 1), (i + 1) / 2 / Math.sqrt(x)]);
    expect(found(root).parameters[0]).toBeCloseTo(1e-4, 15);
  });
});

describe("no answer", () => {
  test("not-finite: the start makes no sense", () => {
    const root = problem(5, [-1], ([x = 0], i) => [Math.sqrt(x) * i, i / 2 / Math.sqrt(x)]);
    expect(leastSquares(root)).toEqual({ kind: "none", reason: "not-finite" });
  });

  test("singular: the residuals do not determine every parameter", () => {
    const reasons = [
      problem(9, [1, 1], ([a = 0, b = 0], i) => [a * i + 2 * b * i - 3 * i - (i % 2), i, 2 * i]),
      problem(9, [1, 1], ([a = 0, b = 0], i) => [a * b * i - 3 * i, b * i, a * i]),
      problem(9, [1, 5], ([a = 0], i) => [a * i - 3 * i - (i % 2), i, 0]),
      problem(1, [1, 5], ([a = 0, b = 0]) => [a + b, 1, 1]),
    ].map((each) => leastSquares(each));
    for (const reason of reasons) expect(reason).toEqual({ kind: "none", reason: "singular" });
  });

  test("stalled: the derivatives promise what no step keeps", () => {
    const wrong = problem(9, [1], ([a = 0], i) => [(a - 3) * (i + 1), -(i + 1)]);
    expect(leastSquares(wrong)).toEqual({ kind: "none", reason: "stalled" });
  });

  test("iteration-limit: one step is not enough for a bent problem", () => {
    const given = decay([3, 2.4, 2, 1.7, 1.3], [1, 1]);
    expect(leastSquares({ ...given, iterationLimit: 1 })).toEqual({ kind: "none", reason: "iteration-limit" });
    const { iterations } = found(given);
    expect(leastSquares({ ...given, iterationLimit: iterations }).kind).toBe("found");
    expect(leastSquares({ ...given, iterationLimit: iterations - 1 }).kind).toBe("none");
  });
});
