import fc from "fast-check";
import { type Contribution, combineUncertainty, type UncertaintyBudget } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const sizes = fc.integer({ min: 1, max: 1000 }).map((n) => n / 100);
const named = (parts: readonly number[]): Contribution[] => parts.map((standard, i) => ({ name: `u${i}`, standard }));

describe("a combined uncertainty", () => {
  test("is the root of the sum of squares, whatever the order, and 3, 4 make 5", () => {
    expect(combineUncertainty({ contributions: named([3, 4]) }).standard).toBe(5);
    holds(
      fc.property(fc.array(sizes, { minLength: 1, maxLength: 8 }), (parts) => {
        const there = combineUncertainty({ contributions: named(parts) });
        const back = combineUncertainty({ contributions: named([...parts].reverse()) });
        expect(back.standard / there.standard).toBeCloseTo(1, 13);
        const shares = there.contributions.reduce((sum, { share = 0 }) => sum + share, 0);
        expect(shares).toBeCloseTo(1, 12);
      }),
    );
  });

  test("adds up where two contributions correlate fully, and cancels where they do so the other way", () => {
    holds(
      fc.property(sizes, sizes, (a, b) => {
        const budget = (coefficient: number): UncertaintyBudget => ({
          contributions: named([a, b]),
          correlations: [{ between: ["u0", "u1"], coefficient }],
        });
        expect(combineUncertainty(budget(1)).standard / (a + b)).toBeCloseTo(1, 12);
        expect(Math.abs(combineUncertainty(budget(-1)).standard - Math.abs(a - b))).toBeLessThan(2e-7 * (a + b));
        expect(combineUncertainty(budget(0))).toEqual(combineUncertainty({ contributions: named([a, b]) }));
      }),
    );
  });

  test("scales with its contributions, and a sensitivity counts as a scale", () => {
    holds(
      fc.property(sizes, sizes, fc.constantFrom(0.25, 2, 64), (a, b, by) => {
        const plain = combineUncertainty({ contributions: named([a, b]) }).expanded;
        expect(combineUncertainty({ contributions: named([by * a, by * b]) }).expanded).toBe(by * plain);
        const sensitive = named([a, b]).map((part) => ({ ...part, sensitivity: -by }));
        expect(combineUncertainty({ contributions: sensitive }).expanded).toBe(by * plain);
      }),
    );
  });

  test("has the degrees of freedom of its only contribution, and of n equal ones n times as many", () => {
    const part = (name: string): Contribution => ({ name, standard: 0.3, degreesOfFreedom: 4 });
    expect(combineUncertainty({ contributions: [part("a")] }).degreesOfFreedom).toBe(4);
    const three = combineUncertainty({ contributions: ["a", "b", "c"].map(part) });
    expect(three.degreesOfFreedom).toBeCloseTo(12, 12);
    // t of twelve degrees of freedom, two-sided 95 %: 2.18 (JCGM 100 Table G.2).
    expect(three.coverageFactor).toBeCloseTo(2.18, 2);
  });

  test("takes readings with one degree of freedom less than their number", () => {
    const { degreesOfFreedom, standard } = combineUncertainty({ contributions: [{ name: "t", readings: [1, 3] }] });
    expect([degreesOfFreedom, standard]).toEqual([1, 1]);
  });

  test("of two that correlate has twice their product by the coefficient besides (JCGM 100:2008 formula 16)", () => {
    holds(
      fc.property(sizes, sizes, fc.integer({ min: -99, max: 99 }), (a, b, hundredths) => {
        const coefficient = hundredths / 100;
        const { standard } = combineUncertainty({
          contributions: named([a, b]),
          correlations: [{ between: ["u1", "u0"], coefficient }],
        });
        expect(standard / Math.sqrt(a * a + b * b + 2 * coefficient * a * b)).toBeCloseTo(1, 12);
      }),
    );
  });

  test("is that of the same budget in any unit, also where squares leave the range of a double", () => {
    const correlations = [{ between: ["u0", "u1"], coefficient: 0.5 }] as const;
    for (const power of [-320, -200, -20, 20, 200, 307]) {
      const unit = 10 ** power;
      const [three, four] = [3 * unit, 4 * unit];
      // 3-4-5, and √(9 + 16 + 12) with the correlation.
      const plain = combineUncertainty({ contributions: named([three, four]) });
      // The smallest doubles have four digits there.
      const digits = power < -300 ? 3 : 12;
      expect(plain.standard / unit).toBeCloseTo(5, digits);
      expect(plain.contributions.map(({ share = 0 }) => share)).toEqual([
        expect.closeTo(0.36, digits),
        expect.closeTo(0.64, digits),
      ]);
      const correlated = combineUncertainty({ contributions: named([three, four]), correlations });
      expect(correlated.standard / unit).toBeCloseTo(Math.sqrt(37), digits);
    }
    expect(combineUncertainty({ contributions: named([1e-200]) }).standard).toBe(1e-200);
  });

  test("counts the readings of a typed array", () => {
    const readings = [4.01, 4.03, 3.98, 4, 4.02];
    const of = (list: ArrayLike<number>) =>
      combineUncertainty({ contributions: [{ name: "repeats", readings: list }] });
    expect(of(Float64Array.from(readings))).toEqual(of(readings));
    expect(of(readings).degreesOfFreedom).toBe(4);
  });

  test("keeps its degrees of freedom where a correlation is none", () => {
    const contributions = named([1, 2]).map((part) => ({ ...part, degreesOfFreedom: 5 }));
    const plain = combineUncertainty({ contributions });
    const none = combineUncertainty({ contributions, correlations: [{ between: ["u0", "u1"], coefficient: 0 }] });
    expect(none).toEqual(plain);
    // (1 + 4)²/(1/5 + 16/5), truncated to 7: t of 95 % is 2.36 (JCGM 100:2008 Table G.2).
    expect(none.degreesOfFreedom).toBeCloseTo(125 / 17, 12);
    expect(none.coverageFactor).toBeCloseTo(2.36, 2);
  });

  test("has no degrees of freedom to name where they are infinitely many", () => {
    expect("degreesOfFreedom" in combineUncertainty({ contributions: named([1, 2]) })).toBe(false);
  });

  test("has no share where nothing is uncertain", () => {
    const nothing = combineUncertainty({ contributions: named([0, 0]), coverageFactor: 2 });
    expect(nothing).toStrictEqual({
      standard: 0,
      coverageFactor: 2,
      expanded: 0,
      contributions: [
        { name: "u0", standard: 0 },
        { name: "u1", standard: 0 },
      ],
    });
    const cancelled = combineUncertainty({
      contributions: named([3, 3]),
      correlations: [{ between: ["u0", "u1"], coefficient: -1 }],
    });
    expect(cancelled.standard).toBe(0);
    expect(cancelled.contributions.map((part) => Object.keys(part))).toEqual([
      ["name", "standard"],
      ["name", "standard"],
    ]);
  });

  test("survives JSON", () => {
    const combined = combineUncertainty({ contributions: named([1, 2]) });
    expect(JSON.parse(JSON.stringify(combined))).toEqual(combined);
  });
});

describe("a budget is refused", () => {
  const ask = (budget: object) => problemsOf(() => combineUncertainty(budget as UncertaintyBudget));
  const two = named([1, 2]);

  test.each<[string, object, object]>([
    ["without contributions", { contributions: [] }, { path: "contributions" }],
    ["with null for contributions", { contributions: null }, { code: "wrong-type", path: "contributions" }],
    ["without a name", { contributions: [{ standard: 1 }] }, { code: "missing", path: "contributions[0].name" }],
    [
      "with a number for a name",
      { contributions: [{ name: 1, standard: 1 }] },
      { code: "wrong-type", path: "contributions[0].name" },
    ],
    [
      "with readings that are null",
      { contributions: [{ name: "t", readings: null }] },
      { path: "contributions[0].readings" },
    ],
    [
      "with a sensitivity that is none",
      { contributions: [{ ...two[0], sensitivity: Number.NaN }] },
      { code: "not-finite", path: "contributions[0].sensitivity" },
    ],
    [
      "with a contribution beyond doubles",
      { contributions: [{ ...two[1], sensitivity: 1.7e308 }] },
      { code: "not-finite", path: "contributions[0].sensitivity" },
    ],
    [
      "with no degrees of freedom",
      { contributions: [{ ...two[0], degreesOfFreedom: 0 }] },
      { code: "out-of-range", path: "contributions[0].degreesOfFreedom" },
    ],
    [
      "with less than one of them",
      { contributions: [{ ...two[0], degreesOfFreedom: 0.5 }] },
      {
        code: "out-of-range",
        path: "contributions",
        expected: "effective degrees of freedom of 1 or more",
        received: "0.5",
      },
    ],
    [
      "with an uncertainty beyond doubles",
      { contributions: named([1.7e308, 1.7e308]), coverageFactor: 2 },
      { code: "not-finite", path: "contributions" },
    ],
    [
      "with an expanded uncertainty beyond doubles",
      { contributions: named([1.7e308]), coverageFactor: 2 },
      { code: "not-finite", path: "contributions" },
    ],
    ["with a factor of 0", { contributions: two, coverageFactor: 0 }, { code: "out-of-range", path: "coverageFactor" }],
    [
      "with correlations that are no list",
      { contributions: two, correlations: {} },
      { code: "wrong-type", path: "correlations" },
    ],
    [
      "with a correlation of one",
      { contributions: two, correlations: [{ between: ["u0"], coefficient: 1 }] },
      { code: "wrong-length", path: "correlations[0].between" },
    ],
    [
      "with a correlation of three",
      { contributions: two, correlations: [{ between: ["u0", "u1", "u0"], coefficient: 1 }] },
      { code: "wrong-length", path: "correlations[0].between" },
    ],
    [
      "with a correlation of two letters",
      { contributions: two, correlations: [{ between: "u0", coefficient: 1 }] },
      { code: "wrong-type", path: "correlations[0].between" },
    ],
    [
      "with a correlation of one with itself",
      { contributions: two, correlations: [{ between: ["u0", "u0"], coefficient: 1 }] },
      { code: "duplicate", path: "correlations[0].between[1]" },
    ],
    [
      "with a correlation that is not finite",
      { contributions: two, correlations: [{ between: ["u0", "u1"], coefficient: Number.NaN }] },
      { code: "not-finite", path: "correlations[0].coefficient" },
    ],
    ["with nothing at all", {}, { code: "missing", path: "contributions" }],
    ["with a contribution that is null", { contributions: [null] }, { path: "contributions[0]" }],
    ["with a negative uncertainty", { contributions: named([1, -1]) }, { path: "contributions[1].standard" }],
    ["with a name twice", { contributions: [two[0], two[0]] }, { code: "duplicate", path: "contributions[1].name" }],
    ["with two ways at once", { contributions: [{ ...two[0], resolution: 1 }] }, { code: "conflict" }],
    ["with a misspelt field", { contributions: [{ ...two[0], factor: 1 }] }, { code: "unknown-key" }],
    [
      "with a correlation of an unknown name",
      { contributions: two, correlations: [{ between: ["u0", "u7"], coefficient: 1 }] },
      { code: "unknown-name", path: "correlations[0].between[1]", expected: "one of u0, u1" },
    ],
    [
      "with a correlation beyond 1",
      { contributions: two, correlations: [{ between: ["u0", "u1"], coefficient: 1.1 }] },
      { path: "correlations[0].coefficient" },
    ],
    [
      "with the same pair twice",
      {
        contributions: two,
        correlations: [
          { between: ["u0", "u1"], coefficient: 0.1 },
          { between: ["u1", "u0"], coefficient: 0.1 },
        ],
      },
      { code: "duplicate", path: "correlations[1].between" },
    ],
    ["with a coverage of 1", { contributions: two, coverage: 1 }, { path: "coverage" }],
    ["with coverage and factor", { contributions: two, coverage: 0.9, coverageFactor: 2 }, { code: "conflict" }],
  ])("%s", (_, budget, problem) => {
    expect(ask(budget)).toMatchObject([problem]);
  });

  test("with correlations that cannot be at the same time", () => {
    const pairs = [
      ["u0", "u1"],
      ["u0", "u2"],
      ["u1", "u2"],
    ].map((between) => ({ between, coefficient: -1 }));
    for (const u of [1, 1e-20, 1e20])
      expect(ask({ contributions: named([u, u, u]), correlations: pairs })).toMatchObject([{ path: "correlations" }]);
  });

  test("with correlations that no three quantities have, though this budget would have a variance", () => {
    // 1 + 2 · 0.9 · 0.9 · (−0.9) − 3 · 0.9² = −2.888 is the determinant.
    const correlations = [
      { between: ["u0", "u1"], coefficient: 0.9 },
      { between: ["u0", "u2"], coefficient: 0.9 },
      { between: ["u1", "u2"], coefficient: -0.9 },
    ];
    expect(ask({ contributions: named([1, 1, 1]), correlations })).toMatchObject([{ path: "correlations" }]);
    // Rounded off, −0.5 three times: it can be, but this sum of three cannot.
    const rounded = correlations.map(({ between }) => ({ between, coefficient: -0.502 }));
    expect(ask({ contributions: named([1, 1, 1]), correlations: rounded })).toMatchObject([{ path: "correlations" }]);
    const part = combineUncertainty({
      contributions: named([1, 1, 0.1]),
      correlations: rounded,
    } as unknown as UncertaintyBudget);
    expect(part.standard).toBeCloseTo(Math.sqrt(2.01 - 2 * 0.502 * 1.2), 12);
  });

  test("but never with those of quantities that are sums of common ones, typed to two digits", () => {
    const load = fc.tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: -9, max: 9 }));
    const loads = fc.array(load, { minLength: 2, maxLength: 12 });
    holds(
      fc.property(loads, (sums) => {
        const size = (load: readonly number[]) => Math.hypot(...load);
        const contributions = named(sums.map(() => 1));
        const correlations = sums.flatMap((a, i) =>
          sums.slice(0, i).map((b, j) => {
            const exact = a.reduce((sum, x, k) => sum + x * (b[k] as number), 0) / size(a) / size(b);
            return { between: [`u${i}`, `u${j}`] as const, coefficient: Math.round(100 * exact) / 100 };
          }),
        );
        const budget = { contributions: [...contributions, { name: "own", standard: 10 }], correlations };
        expect(combineUncertainty(budget as unknown as UncertaintyBudget).standard).toBeGreaterThan(0);
      }),
    );
  });

  test("where inputs correlate and one has few degrees of freedom, unless a factor is given", () => {
    const contributions = [{ ...two[0], degreesOfFreedom: 4 }, two[1]];
    const correlations = [{ between: ["u0", "u1"], coefficient: 0.5 }];
    expect(ask({ contributions, correlations })).toMatchObject([{ code: "missing", path: "coverageFactor" }]);
    const given = { contributions, correlations, coverageFactor: 2 } as unknown as UncertaintyBudget;
    const { expanded, standard, degreesOfFreedom } = combineUncertainty(given);
    expect([expanded, degreesOfFreedom]).toEqual([2 * standard, undefined]);
  });
});
