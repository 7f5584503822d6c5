/** multiplierForMargin: the smallest multiplier that can be set and keeps a margin. */
import fc from "fast-check";
import {
  type Coordination,
  coordinationMargin,
  multiplierForMargin,
  type TwoRelays,
  type WantedMargin,
} from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { definite, densely, pairs, ranges, very } from "./two-relays.js";

describe("the smallest multiplier that keeps a margin", () => {
  const wanted: WantedMargin = {
    upstream: very(600, 1),
    downstream: very(400, 0.2),
    currents: { from: 800, to: 6000 },
    required: 0.3,
    step: 0.05,
  };
  const found = (given: WantedMargin): { readonly multiplier: number } & Coordination => {
    const answer = multiplierForMargin(given);
    if (answer.kind === "none") throw new Error(answer.reason);
    return answer;
  };

  test("is the next step above what the tightest current needs, as a decimal", () => {
    // At 6000 A: (0.3 + 2.7/14)/1.5 = 0.32857…
    const needed = [
      [0.05, 0.35],
      [0.01, 0.33],
      [0.005, 0.33],
      [0.001, 0.329],
      [0.1, 0.4],
      [0.3, 0.6],
      [1, 1],
    ] as const;
    for (const [step, multiplier] of needed) expect(found({ ...wanted, step }).multiplier).toBe(multiplier);
    const { multiplier, tightest, keeps } = found(wanted);
    expect([multiplier, keeps, tightest?.current]).toEqual([0.35, true, 6000]);
    expect(tightest?.margin).toBeCloseTo(0.525 - 2.7 / 14, 12);
  });

  test("is that step itself where rounding alone stands against it", () => {
    // At 1000 A upstream takes multiplier · 1 s, and 0.4 + 0.3 s are 0.7 s; in doubles 0.7 − 0.4 is below 0.3.
    const two = { upstream: definite(400, 1), downstream: definite(400, 0.4), currents: [1000] };
    expect(found({ ...two, required: 0.3, step: 0.05 }).multiplier).toBe(0.7);
  });

  test("can be set: from the smallest to the largest of the relay", () => {
    expect(found({ ...wanted, required: 0, downstream: very(400, 0.001) }).multiplier).toBe(0.05);
    expect(found({ ...wanted, required: 0, downstream: very(400, 0.001), minimum: 0.12 }).multiplier).toBe(0.15);
    expect(found({ ...wanted, minimum: 0.07, step: 0.01 }).multiplier).toBe(0.33);
    // In doubles 0.07/0.01 is more than 7.
    expect(found({ ...wanted, required: 0, downstream: very(400, 0.001), minimum: 0.07, step: 0.01 }).multiplier).toBe(
      0.07,
    );
    expect(found({ ...wanted, maximum: 0.35 }).multiplier).toBe(0.35);
    expect(multiplierForMargin({ ...wanted, maximum: 0.34 })).toEqual({ kind: "none", reason: "none-large-enough" });
  });

  test("keeps the margin on a dense grid, and the next smaller one does not", () => {
    const steps = fc.constantFrom(0.5, 0.1, 0.05, 0.025, 0.01, 0.005);
    holds(
      fc.property(pairs, ranges, between(0, 0.6), steps, (pair, currents, required, step) => {
        const answer = multiplierForMargin({ ...pair, currents, required, step });
        const at = (multiplier: number) => ({
          ...pair,
          upstream: { ...pair.upstream, setting: { ...pair.upstream.setting, multiplier } },
        });
        if (answer.kind === "none") {
          const most = coordinationMargin({ ...at(100), currents, required });
          expect(most.keeps === false || most.tightest === undefined).toBe(true);
          return;
        }
        const { multiplier } = answer;
        expect(multiplier).toBe(Number(multiplier.toFixed(3)));
        expect(Math.abs(multiplier / step - Math.round(multiplier / step))).toBeLessThan(1e-9);
        const dense = densely(at(multiplier), currents);
        expect(dense).toBeGreaterThanOrEqual(required - 1e-9);
        if (multiplier > step) {
          const { keeps, smallest } = coordinationMargin({ ...at(multiplier - step), currents, required });
          expect([keeps, (smallest?.margin as number) < required]).toEqual([false, true]);
        }
      }),
      60,
    );
  });

  test("does not exist where no multiplier can help, and the reason says why", () => {
    const reason = (given: Partial<WantedMargin>) => multiplierForMargin({ ...wanted, ...given });
    expect(reason({ upstream: very(300, 1), currents: { from: 350, to: 6000 } })).toEqual({
      kind: "none",
      reason: "upstream-alone",
    });
    expect(reason({ upstream: very(9000, 1) })).toEqual({ kind: "none", reason: "never-together" });
    expect(reason({ upstream: definite(600, 0) })).toEqual({ kind: "none", reason: "none-large-enough" });
  });
});

describe("bad input is refused with its place", () => {
  const two: TwoRelays = { upstream: very(600, 1), downstream: very(400, 1), currents: [1000] };
  test.each([
    ["no required margin", { required: undefined }, "required"],
    ["no step", { step: undefined }, "step"],
    ["a step of 0", { step: 0 }, "step"],
    ["a smallest multiplier of 0", { minimum: 0 }, "minimum"],
    ["a largest multiplier that no step reaches", { minimum: 0.06, maximum: 0.09 }, "maximum"],
    ["a misspelt key", { steps: 1 }, "steps"],
  ])("%s", (_what, change, path) => {
    const given = { ...two, required: 0.3, step: 0.05, ...change } as WantedMargin;
    expect(problemsOf(() => multiplierForMargin(given)).map((problem) => problem.path)).toEqual([path]);
  });
});
