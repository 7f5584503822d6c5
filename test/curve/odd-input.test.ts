import { operateInstant, operateInstantOfSamples, resetTime } from "tripwright/curve";
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

test("a reset time of −0 is 0", () => {
  expect(resetTime({ curve: "iec-inverse", reset: { form: "definite", time: -0 } }, 0.5)).toBe(0);
});
