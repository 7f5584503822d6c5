import fc from "fast-check";
import { band, type DecisionRule, grade } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { textOf } from "../support/arbitraries.js";
import { holds } from "../support/holds.js";

/** Everything in thousandths, so that whole numbers decide exactly; readings gather about the limits. */
const situation = fc
  .record({
    nominal: fc.integer({ min: -5000, max: 5000 }),
    half: fc.integer({ min: 0, max: 300 }),
    guard: fc.integer({ min: 0, max: 100 }),
    side: fc.constantFrom(-1, 1),
    off: fc.integer({ min: -220, max: 220 }),
  })
  .map((drawn) => ({ ...drawn, reading: drawn.nominal + drawn.side * (drawn.half + drawn.off) }));
type Situation = { nominal: number; half: number; guard: number; reading: number };

const thousandths = (n: number): string => textOf(BigInt(n), 3);
const verdict = ({ nominal, half, guard, reading }: Situation, rule: DecisionRule) =>
  grade(thousandths(reading), band(thousandths(nominal), { absolute: thousandths(half) }), {
    rule,
    expandedUncertainty: thousandths(guard),
  }).verdict;

describe("the decision rules", () => {
  test("follow whole numbers: the limits themselves, drawn in by U, and pushed out by U", () => {
    holds(
      fc.property(situation, (given) => {
        const distance = Math.abs(given.reading - given.nominal);
        const inner = distance <= given.half - given.guard;
        expect(verdict(given, "simple")).toBe(distance <= given.half ? "within" : "outside");
        expect(verdict(given, "guarded")).toBe(inner ? "within" : "outside");
        expect(verdict(given, "three-way")).toBe(
          inner ? "within" : distance > given.half + given.guard ? "outside" : "undecided",
        );
      }),
      300,
    );
  });

  test("what the guarded rule accepts the simple one does, and what that accepts is not outside three ways", () => {
    holds(
      fc.property(situation, (given) => {
        const [simple, guarded, threeWay] = (["simple", "guarded", "three-way"] as const).map((r) => verdict(given, r));
        if (guarded === "within") expect(simple).toBe("within");
        if (simple === "within") expect(threeWay).not.toBe("outside");
        if (threeWay === "outside") expect(simple).toBe("outside");
        expect(threeWay === "within").toBe(guarded === "within");
      }),
    );
  });

  test("a larger uncertainty never accepts more, and never rejects three ways more", () => {
    holds(
      fc.property(situation, fc.integer({ min: 0, max: 100 }), (given, more) => {
        const unsure = { ...given, guard: given.guard + more };
        if (verdict(unsure, "guarded") === "within") expect(verdict(given, "guarded")).toBe("within");
        if (verdict(unsure, "three-way") === "outside") expect(verdict(given, "three-way")).toBe("outside");
      }),
    );
  });

  test("without uncertainty all three agree, and the simple rule never looks at it", () => {
    holds(
      fc.property(situation, (given) => {
        const sure = { ...given, guard: 0 };
        expect(verdict(sure, "guarded")).toBe(verdict(sure, "simple"));
        expect(verdict(sure, "three-way")).toBe(verdict(sure, "simple"));
        expect(verdict(given, "simple")).toBe(verdict(sure, "simple"));
      }),
    );
  });

  test("a guard wider than the band leaves nothing to accept", () => {
    const options = { rule: "guarded", expandedUncertainty: 0.3 } as const;
    expect(grade(4, band(4, { absolute: 0.2 }), options).verdict).toBe("outside");
    expect(grade(4, band(4, { absolute: 0.3 }), options).verdict).toBe("within");
  });

  test("the guard of a one-sided band lies at its one limit", () => {
    const atMost = band(0.02, { absolute: 0.04, side: "high" });
    const guarded = (t: number) => grade(t, atMost, { rule: "guarded", expandedUncertainty: 0.005 }).verdict;
    expect([-1, 0.055, 0.0551].map(guarded)).toEqual(["within", "within", "outside"]);
    const threeWay = (t: number) => grade(t, atMost, { rule: "three-way", expandedUncertainty: 0.005 }).verdict;
    expect([0.055, 0.0551, 0.065, 0.0651].map(threeWay)).toEqual(["within", "undecided", "undecided", "outside"]);
  });

  test("by how much a reading lies beyond is counted from the limit itself, whatever the rule", () => {
    const options = { rule: "guarded", expandedUncertainty: 0.05 } as const;
    expect(grade(4.18, band(4, { absolute: 0.2 }), options)).toMatchObject({ verdict: "outside", used: 0.9 });
    expect(grade(4.18, band(4, { absolute: 0.2 }), options)).not.toHaveProperty("outsideBy");
    expect(grade(4.3, band(4, { absolute: 0.2 }), options).outsideBy).toBe(0.1);
  });
});
