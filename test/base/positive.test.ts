import { expect, test } from "vitest";
import { given, notNegative, positive } from "../../src/base/positive.js";
import { problemsOf } from "../support/failure.js";

const expected = (work: () => unknown) => problemsOf(work).map((problem) => `${problem.code}: ${problem.expected}`);

test.each([
  [0, "out-of-range: a time above 0 s"],
  [-1, "out-of-range: a time above 0 s"],
  [undefined, "missing: a time above 0 s (a number, text or a decimal object)"],
  [Number.NaN, "not-finite: a time above 0 s"],
  ["0,5", "decimal-comma: a time above 0 s with a decimal point"],
])("a time above 0 s, not %s: the unit is told whatever is wrong", (value, told) => {
  expect(expected(() => positive(value, "hold", "a time", "s"))).toEqual([told]);
});

test("what may be 0, and what has no unit", () => {
  expect(notNegative(0, "rest", "a time", "s").toNumber()).toBe(0);
  expect(expected(() => notNegative(-1, "rest", "a time", "s"))).toEqual(["out-of-range: a time of 0 s or more"]);
  expect(expected(() => positive(0, "step", "a step"))).toEqual(["out-of-range: a step above 0"]);
  expect(expected(() => notNegative(-1, "share", "a share"))).toEqual(["out-of-range: a share of 0 or more"]);
});

test("of named fields those that are given are read, each with its unit", () => {
  const what = { rms: ["a limit", "A"], angle: ["a step", "°"] } as const;
  expect(Object.keys(given(["rms", "angle"], { angle: 1 }, what))).toEqual(["angle"]);
  expect(expected(() => given(["rms", "angle"], { rms: 0 }, what))).toEqual(["out-of-range: a limit above 0 A"]);
});
