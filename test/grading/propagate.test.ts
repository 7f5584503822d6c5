import fc from "fast-check";
import { combineUncertainty, estimatesOf, propagate } from "tripwright/grading";
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

  test("has the second order of a cube and of a product with a square, as their derivatives say", () => {
    holds(
      fc.property(input, input, (a, b) => {
        const { standard: u, value: v } = a;
        // f = v³: f′ = 3v², f″ = 6v, f‴ = 6.
        const cube = propagate(({ a }) => (a as number) ** 3, { a });
        const exact = (3 * v * v * u) ** 2 + 0.5 * (6 * v * u * u) ** 2 + 3 * v * v * 6 * u ** 4;
        expect((cube.secondOrder ?? 0) / Math.sqrt(exact)).toBeCloseTo(1, 6);
        // f = a·b²: f_ab = 2b, f_bb = 2a, f_abb = 2; all else of second and third order is 0.
        const { standard: w, value: z } = b;
        const both = propagate(({ a, b }) => (a as number) * (b as number) ** 2, { a, b });
        const first = (z * z * u) ** 2 + (2 * v * z * w) ** 2;
        const second = 2 * (0.5 * (2 * z * u * w) ** 2) + 0.5 * (2 * v * w * w) ** 2 + z * z * 2 * u * u * w * w;
        expect((both.secondOrder ?? 0) / Math.sqrt(first + second)).toBeCloseTo(1, 6);
      }),
    );
  });

  test("has no second order where f is not defined beside the values, or bends more than the terms can say", () => {
    const x = { value: 1, standard: 1 };
    // Defined within a tenth of the uncertainty only.
    const narrow = propagate(({ x }) => (Math.abs((x as number) - 1) < 0.1 ? (x as number) : Number.NaN), { x });
    expect(narrow).toMatchObject({ value: 1, standard: expect.closeTo(1, 9) });
    expect(narrow).not.toHaveProperty("secondOrder");
    // f = x − x³ at 0: u² + f′·f‴·u⁴ = 1 − 6.
    const cubic = propagate(({ x }) => (x as number) - (x as number) ** 3, { x: { value: 0, standard: 1 } });
    expect(cubic).not.toHaveProperty("secondOrder");
    expect(propagate(() => 7, { x })).toMatchObject({ value: 7, standard: 0, secondOrder: 0, sensitivities: { x: 0 } });
  });

  test("of a sum with factors is the budget of its contributions, with correlations and degrees of freedom", () => {
    const freedom = fc.constantFrom({}, { degreesOfFreedom: 4 }, { degreesOfFreedom: 19 });
    holds(
      fc.property(input, input, freedom, freedom, fc.integer({ min: -9, max: 9 }), (a, b, few, more, tenths) => {
        const budget = {
          contributions: [
            { name: "a", standard: a.standard, sensitivity: 2, ...few },
            { name: "b", standard: b.standard, sensitivity: -3, ...more },
          ],
        };
        const f = ({ a = 0, b = 0 }: { readonly [name: string]: number }) => 2 * a - 3 * b;
        const inputs = { a: { ...a, ...few }, b: { ...b, ...more } };
        const [ours, theirs] = [propagate(f, inputs), combineUncertainty(budget)];
        expect(ours.degreesOfFreedom === undefined).toBe(theirs.degreesOfFreedom === undefined);
        // The factor is that of whole degrees of freedom, which a rounding may move by one.
        fc.pre(Math.abs((ours.degreesOfFreedom ?? 0.5) % 1) > 1e-6 && (ours.degreesOfFreedom ?? 0.5) % 1 < 1 - 1e-6);
        expect(ours.expanded / theirs.expanded).toBeCloseTo(1, 9);
        const given = { correlations: [{ between: ["a", "b"], coefficient: tenths / 10 }], coverageFactor: 2 } as const;
        expect(propagate(f, inputs, given).expanded / combineUncertainty({ ...budget, ...given }).expanded).toBeCloseTo(
          1,
          7,
        );
      }),
    );
  });

  test("of several results counts how the inputs correlate, and leaves out what is certain", () => {
    holds(
      fc.property(input, input, fc.integer({ min: -9, max: 9 }), (a, b, tenths) => {
        const r = tenths / 10;
        const { correlations } = propagate(
          ({ a, b }) => ({ p: a + 4 * b, fixed: 5, q: 2 * a + 3 * b }),
          { a, b },
          { correlations: [{ between: ["a", "b"], coefficient: r }] },
        );
        // Cov(p, q) = 2·u² + 12·w² + (1·3 + 4·2)·r·u·w, and the variances likewise.
        const [u, w] = [a.standard, b.standard];
        const of = (uu: number, ww: number, uw: number) => uu * u * u + ww * w * w + uw * r * u * w;
        const exact = of(2, 12, 11) / Math.sqrt(of(1, 16, 8) * of(4, 9, 12));
        expect(correlations).toEqual([{ between: ["p", "q"], coefficient: expect.closeTo(exact, 7) }]);
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
    expect(root.sensitivities).toStrictEqual({ x: expect.closeTo(15, 7) });
    expect(root.contributions.map(({ name }) => name)).toEqual(["x", "c"]);
  });

  test("of two results that share an input that is certain has the correlation of the uncertain one alone", () => {
    const { correlations } = propagate(({ x, c }) => ({ twice: 2 * x + c, less: c - x }), {
      x: { value: 1, standard: 0.1 },
      c: { value: 3, standard: 0 },
    });
    expect(correlations).toEqual([{ between: ["twice", "less"], coefficient: -1 }]);
  });

  test("carries uncertainties whose squares leave the range of a double", () => {
    for (const power of [-200, 200]) {
      const u = 10 ** power;
      const found = propagate(({ x, y }) => 3 * x + 4 * y, {
        x: { value: 0, standard: u },
        y: { value: 0, standard: u },
      });
      expect(found.standard / u).toBeCloseTo(5, 9);
      expect((found.secondOrder ?? Number.NaN) / u).toBeCloseTo(5, 9);
    }
  });

  test("names what is wrong", () => {
    const one = { x: { value: 1, standard: 0.1 } };
    const ask = (f: unknown, inputs: unknown, options = {}) =>
      problemsOf(() => propagate(f as () => number, inputs as typeof one, options));
    expect(ask(() => Number.NaN, one)).toMatchObject([{ code: "not-finite", path: "f" }]);
    expect(ask(() => ({ y: Number.POSITIVE_INFINITY }), one)).toMatchObject([{ path: "f.y" }]);
    expect(ask(() => null, one)).toMatchObject([{ code: "wrong-type", path: "f" }]);
    const inputs = { x: { value: 1, standard: 0.1, degreesOfFreedom: 0 } };
    expect(ask(() => 1, inputs)).toMatchObject([{ code: "out-of-range", path: "inputs.x.degreesOfFreedom" }]);
    // Defined at the value itself, and nowhere beside it.
    const alone = ({ x }: { x: number }) => (x === 1 ? 1 : Number.NaN);
    const why = { code: "not-finite", path: "f", expected: expect.stringContaining("smooth function of x") };
    expect(ask(alone, one)).toMatchObject([why]);
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
