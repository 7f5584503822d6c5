import { describe, expect, test } from "vitest";
import { fail } from "../../src/base/check.js";
import { collector } from "../../src/base/collect.js";

const refuse = (path: string) => () => fail("missing", path, "a value", undefined);

describe("a collector of problems", () => {
  test("hands results through and keeps the problems of all work that fails, with full paths", () => {
    const collect = collector([]);
    expect(collect.attempt("ratio", 1, () => 80)).toBe(80);
    expect(collect.attempt("pickup", 1, refuse("pickup"))).toBe(1);
    const below = collect.below("elements[2]");
    expect(below.attempt("time", "none", refuse("time"))).toBe("none");
    expect(below.below("curve").attempt("k", 0, refuse("k"))).toBe(0);
    expect(collect.problems.map(({ path }) => path)).toEqual(["pickup", "elements[2].time", "elements[2].curve.k"]);
    expect(below.problems).toEqual(collect.problems);
  });

  test("does not do work on, above or below a place that is known to be bad, and does all other work", () => {
    const collect = collector(["elements[1].curve", "wiring"]);
    let done = 0;
    const work = () => ++done;
    for (const path of ["elements[1]", "elements[1].curve", "elements[1].curve.k", "wiring", "wiring[0]"])
      expect(collect.attempt(path, -1, work)).toBe(-1);
    expect(collect.below("elements[1]").attempt("curve", -1, work)).toBe(-1);
    expect(done).toBe(0);
    for (const path of ["elements[1].curves", "elements[10].curve", "elements[1].pickup", "wirings"])
      expect(collect.attempt(path, -1, work)).toBeGreaterThan(0);
    expect(collect.below("elements[10]").attempt("curve", -1, work)).toBe(5);
  });

  test("passes any other error on as it is", () => {
    const error = new TypeError("a slip in the code");
    const slip = () => {
      throw error;
    };
    expect(() => collector([]).attempt("pickup", 1, slip)).toThrow(error);
  });
});
