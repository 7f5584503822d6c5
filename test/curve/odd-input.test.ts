import { advance, multiplierForMargin, operateInstant, operateInstantOfSamples, resetTime } from "tripwright/curve";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const setting = { curve: "iec-very-inverse" } as const;

// Found by npm run fuzz: the movement overflowed before it was divided by the duration, and the travel became NaN.
test("a multiple that moves to the largest double operates early in its piece", () => {
  const { operatedAt, travel } = operateInstant(setting, [{ duration: 2, from: 3, to: Number.MAX_VALUE }]);
  expect(travel).toBe(1);
  expect(operatedAt).toBeGreaterThanOrEqual(0);
  expect(operatedAt).toBeLessThan(1e-3);
});

test("samples that last longer than a double counts are refused", () => {
  const problems = problemsOf(() => operateInstantOfSamples(setting, [3, 3, 3], { sampleRate: Number.MIN_VALUE }));
  expect(problems.map(({ path, code }) => [path, code])).toEqual([["sampleRate", "out-of-range"]]);
});

// Beyond 2^53 the count of multipliers stood still, and so did the search.
test("multipliers too many to be counted are refused", () => {
  const relay = { setting, pickup: 320 };
  const wanted = { upstream: relay, downstream: relay, currents: { from: 800, to: 6000 }, required: 0.3, step: 1e-300 };
  expect(problemsOf(() => multiplierForMargin(wanted)).map(({ path }) => path)).toEqual(["step"]);
});

test("every field of a state is looked at", () => {
  const state = { elapsed: 2, travel: 0.3, started: Number.POSITIVE_INFINITY };
  expect(problemsOf(() => advance(setting, state, { multiple: 10, dt: 5 }))[0]?.path).toBe("state.started");
});

test("a reset time of −0 is 0", () => {
  expect(resetTime({ curve: "iec-inverse", reset: { form: "definite", time: -0 } }, 0.5)).toBe(0);
});
