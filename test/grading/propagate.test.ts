import fc from "fast-check";
import { estimatesOf, propagate } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const values = fc.integer({ min: 100, max: 10_000 }).map((n) => n / 100);
const shares = fc.integer({ min: 1, max: 300 }).map((n) => n / 10_000);
const input = fc
  .record({ value: values, share: shares })
  .map(({ value, share }) => ({ value, standard: value * share }));
const relative = ({ value, standard }: { value: number; standard: number }): number => standard / value;

describe("propagation", () => {
  test("through a sum with factors is the root of their squares, exactly as first order says", () => {
    holds(
      fc.property(input, input, (a, b) => {
        const { standard, sensitivities } = propagate(({ a, b }) => 2 * a - 3 * b + 7, { a, b });
        expect(standard / Math.hypot(2 * a.standard, 3 * b.standard)).toBeCloseTo(1, 9);
        expect(sensitivities["a"]).toBeCloseTo(2, 9);
        expect(sensitivities["b"]).toBeCloseTo(-3, 9);
      }),
    );
  });

  test("through products and quotients adds relative uncertainties in squares", () => {
    holds(
      fc.property(input, input, (a, b) => {
        const wanted = Math.hypot(relative(a), relative(b));
        const product = propagate(({ a, b }) => a * b, { a, b });
        expect(product.standard / product.value / wanted).toBeCloseTo(1, 9);
        // The exact variance of a product of independent quantities: the second order is all there is beyond the first.
        const exact = Math.sqrt((1 + relative(a) ** 2) * (1 + relative(b) ** 2) - 1) * product.value;
        expect((product.secondOrder ?? 0) / exact).toBeCloseTo(1, 6);
      }),
    );
  });

  test("knows the cosine's flat top, where the first order alone says nothing", () => {
    const { standard, secondOrder } = propagate(({ x }) => Math.cos(x), { x: { value: 0, standard: 0.1 } });
    expect(standard).toBeLessThan(1e-12);
    // √(½ · f″²) · u² = 0.01/√2.
    expect(secondOrder).toBeCloseTo(0.01 / Math.SQRT2, 8);
  });

  test("of several results says how they go together", () => {
    holds(
      fc.property(input, input, (a, b) => {
        const { results, correlations } = propagate(
          ({ a, b }) => ({ sum: a + b, difference: a - b, double: 2 * a + 2 * b }),
          { a, b },
        );
        const [apart, same] = correlations;
        const squares = a.standard ** 2 + b.standard ** 2;
        expect(apart?.coefficient).toBeCloseTo((a.standard ** 2 - b.standard ** 2) / squares, 9);
        expect(same).toEqual({ between: ["sum", "double"], coefficient: expect.closeTo(1, 9) });
        expect(results.double.standard / results.sum.standard).toBeCloseTo(2, 9);
      }),
    );
  });

  test("of correlated inputs keeps a ratio steady where both move together", () => {
    const a = { value: 10, standard: 0.1 };
    const b = { value: 2, standard: 0.02 };
    const together = [{ between: ["a", "b"], coefficient: 1 }] as const;
    expect(propagate(({ a, b }) => a / b, { a, b }, { correlations: together }).standard).toBeLessThan(1e-8);
  });

  test("is not disturbed by inputs that are certain, nor by a function with an edge far away", () => {
    const root = propagate(({ x, c }) => Math.sqrt(x) * c, {
      x: { value: 0.01, standard: 0.001 },
      c: { value: 3, standard: 0 },
    });
    // f′ = 3/(2√x) = 15; the widest step of 16 u would leave the domain.
    expect(root.sensitivities).toEqual({ x: expect.closeTo(15, 7), c: 0 });
  });

  test("names what is wrong", () => {
    const one = { x: { value: 1, standard: 0.1 } };
    const ask = (f: unknown, inputs: unknown, options = {}) =>
      problemsOf(() => propagate(f as () => number, inputs as typeof one, options));
    expect(ask(() => Number.NaN, one)).toMatchObject([{ code: "not-finite", path: "f" }]);
    expect(ask(() => ({ y: Number.POSITIVE_INFINITY }), one)).toMatchObject([{ path: "f.y" }]);
    expect(ask("x", one)).toMatchObject([{ code: "wrong-type", path: "f" }]);
    expect(ask(() => 1, {})).toMatchObject([{ code: "missing", path: "inputs" }]);
    expect(ask(() => 1, null)).toMatchObject([{ path: "inputs" }]);
    expect(ask(() => 1, { x: { value: 1, standard: -1 } })).toMatchObject([{ path: "inputs.x.standard" }]);
    expect(ask(() => 1, { x: { value: 1, uncertainty: 1 } })).toMatchObject([{ path: "inputs.x.uncertainty" }]);
    expect(ask(() => 1, one, { factor: 2 })).toMatchObject([{ code: "unknown-key", path: "factor" }]);
  });
});

describe("means of readings that were taken together", () => {
  test("correlate fully where one is a multiple of the other, the other way where it is a negative one", () => {
    holds(
      fc.property(fc.uniqueArray(values, { minLength: 2, maxLength: 8 }), (x) => {
        const series = { x, up: x.map((value) => 4 * value), down: x.map((value) => 1 - value) };
        const { inputs, correlations } = estimatesOf(series);
        expect(correlations.map(({ coefficient }) => coefficient)).toEqual(
          [1, -1, -1].map((r) => expect.closeTo(r, 9)),
        );
        expect(inputs["up"]?.standard).toBe(4 * (inputs["x"]?.standard ?? Number.NaN));
        expect(inputs["x"]?.degreesOfFreedom).toBe(x.length - 1);
      }),
    );
  });

  test("keep their digits where the readings differ in the last ones only", () => {
    // NIST NumAcc1: 10000001, 10000003, 10000002 have mean 10000002 and standard deviation 1 exactly.
    const { inputs } = estimatesOf({ x: [10_000_001, 10_000_003, 10_000_002] });
    expect(inputs["x"]).toEqual({ value: 10_000_002, standard: 1 / Math.sqrt(3), degreesOfFreedom: 2 });
  });

  test("have no correlation with what never moved, and are refused where they are not as many", () => {
    expect(estimatesOf({ x: [1, 2], fixed: [5, 5] }).correlations).toEqual([]);
    expect(problemsOf(() => estimatesOf({ x: [1, 2], y: [1] }))).toMatchObject([{ path: "readings.y" }]);
    expect(problemsOf(() => estimatesOf({ x: [1] }))).toMatchObject([{ path: "readings.x" }]);
    expect(problemsOf(() => estimatesOf({ x: [1, Number.NaN] }))).toMatchObject([{ path: "readings.x[1]" }]);
    expect(problemsOf(() => estimatesOf(null as unknown as { x: [] }))).toHaveLength(1);
  });
});
