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

  test("has no share where nothing is uncertain", () => {
    expect(combineUncertainty({ contributions: named([0, 0]) })).toMatchObject({
      standard: 0,
      expanded: 0,
      contributions: [
        { name: "u0", standard: 0 },
        { name: "u1", standard: 0 },
      ],
    });
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
    ["with nothing at all", {}, { code: "missing", path: "contributions" }],
    ["with a contribution that is null", { contributions: [null] }, { path: "contributions[0]" }],
    ["with a negative uncertainty", { contributions: named([1, -1]) }, { path: "contributions[1].standard" }],
    ["with a name twice", { contributions: [two[0], two[0]] }, { code: "duplicate", path: "contributions[1].name" }],
    ["with two ways at once", { contributions: [{ ...two[0], resolution: 1 }] }, { code: "conflict" }],
    ["with a misspelt field", { contributions: [{ ...two[0], factor: 1 }] }, { code: "unknown-key" }],
    [
      "with a correlation of an unknown name",
      { contributions: two, correlations: [{ between: ["u0", "u7"], coefficient: 1 }] },
      { code: "unknown-name", path: "correlations[0].between[1]" },
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
    expect(ask({ contributions: named([1, 1, 1]), correlations: pairs })).toMatchObject([{ path: "correlations" }]);
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
