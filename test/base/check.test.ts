import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { above, atLeast, fail, finite, list, nameIn, object, options, whole } from "../../src/base/check.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const anyNumber = fc.oneof(fc.double(), fc.constantFrom(0, -0, 1, 5, Number.NaN, Number.POSITIVE_INFINITY));

/** What a check of a number makes of something: the number itself, or the code of its one problem. */
function outcome(check: (x: number) => number, value: unknown): unknown {
  let result: unknown;
  try {
    result = check(value as number);
  } catch {
    return problemsOf(() => check(value as number)).map(({ code, path }) => `${path} ${code}`);
  }
  return result;
}

describe("checks of numbers", () => {
  const checks: readonly (readonly [string, (x: number) => number, (x: number) => boolean])[] = [
    ["finite", (x) => finite(x, "p", "a level"), () => true],
    ["above", (x) => above(x, 5, "p", "a level"), (x) => x > 5],
    ["at least", (x) => atLeast(x, 5, "p", "a level"), (x) => x >= 5],
    ["whole", (x) => whole(x, [1, 5], "p", "a level"), (x) => x % 1 === 0 && x >= 1 && x <= 5],
  ];

  test.each(checks)("%s: what is in the domain passes (−0 as 0), the rest is told apart", (_, check, inDomain) => {
    holds(
      fc.property(anyNumber, (x) => {
        const expected = !Number.isFinite(x) ? ["p not-finite"] : inDomain(x) ? x + 0 : ["p out-of-range"];
        expect(outcome(check, x)).toEqual(expected);
      }),
    );
    expect(outcome(check, undefined)).toEqual(["p missing"]);
    for (const value of ["6", null, 6n, [6], { valueOf: () => 6 }, Object(6), true])
      expect(outcome(check, value)).toEqual(["p wrong-type"]);
  });

  test("say what was expected, with its unit", () => {
    const text = (work: () => unknown) => problemsOf(work)[0]?.expected;
    expect(text(() => finite(Number.NaN, "t", "a time in seconds"))).toBe("a time in seconds, a finite number");
    expect(text(() => above(0, 0, "f", "a frequency", "Hz"))).toBe("a frequency above 0 Hz");
    expect(text(() => above(0, 0, "x", "a multiple"))).toBe("a multiple above 0");
    expect(text(() => atLeast(-1, 0, "t", "a time", "s"))).toBe("a time of 0 s or more");
    expect(text(() => whole(0.5, [1, 9], "n", "a count"))).toBe("a count, a whole number from 1 to 9");
  });
});

describe("checks of names", () => {
  const TABLE = { forward: 1, reverse: 2 };

  test("pass the own keys of a table", () => {
    for (const name of ["forward", "reverse"] as const) expect(nameIn(name, TABLE, "p")).toBe(name);
  });

  test("refuse everything else, inherited names too, and list what there is", () => {
    const inherited = Object.getOwnPropertyNames(Object.prototype);
    expect(inherited).toContain("constructor");
    expect(inherited).toContain("__proto__");
    for (const name of [...inherited, "Forward", "", undefined, null, 0, ["forward"], Object("forward")])
      expect(problemsOf(() => nameIn(name, TABLE, "p"))).toMatchObject([
        { code: "unknown-name", path: "p", expected: "one of forward, reverse" },
      ]);
  });
});

describe("checks of objects", () => {
  test("pass plain objects as they are", () => {
    for (const value of [{}, { a: 1 }, Object.create(null), Object.freeze({ a: 1 })])
      expect(object(value, "p", "a thing")).toBe(value);
  });

  test("refuse whatever else, and tell what is missing from what is wrong", () => {
    expect(problemsOf(() => object(undefined as never, "p", "a thing"))).toMatchObject([
      { code: "missing", path: "p", expected: "a thing", received: "nothing" },
    ]);
    for (const value of [null, [], [1], "a", 1, true, () => 1, Symbol("a")])
      expect(problemsOf(() => object(value as never, "p", "a thing"))).toMatchObject([
        { code: "wrong-type", path: "p" },
      ]);
  });

  test("take a list of enough items, a list with holes too", () => {
    const holes = new Array(2);
    expect(list(holes, "p", "a list", 2)).toBe(holes);
    expect(list([], "p", "a list")).toEqual([]);
    const code = (value: unknown) =>
      problemsOf(() => list(value as never, "p", "two or more", 2)).map((problem) => `${problem.path} ${problem.code}`);
    expect(code([1])).toEqual(["p wrong-length"]);
    expect(code(undefined)).toEqual(["p missing"]);
    for (const value of [null, "ab", { length: 2 }, new Float64Array(2), 5])
      expect(code(value)).toEqual(["p wrong-type"]);
  });

  test("refuse a key that an options object does not know, by its path", () => {
    const known = ["rate", "count"];
    const given = { rate: 1 };
    expect(options(given, known)).toBe(given);
    for (const key of ["rat", "Rate", "constructor", "toString", "__proto__"]) {
      const value = JSON.parse(`{"rate": 1, "${key}": 2}`); // JSON.parse makes __proto__ a key like any other
      const problem = { code: "unknown-key", expected: "one of rate, count", received: `"${key}"` };
      expect(problemsOf(() => options(value, known))).toMatchObject([{ ...problem, path: key }]);
      expect(problemsOf(() => options(value, known, "ramp"))).toMatchObject([{ ...problem, path: `ramp.${key}` }]);
    }
    expect(problemsOf(() => options(undefined as never, known))).toMatchObject([
      { code: "missing", expected: "an object with rate, count" },
    ]);
  });
});

test("a failure carries one problem, printed", () => {
  expect(problemsOf(() => fail("conflict", "p", "one of them", { a: 1 }))).toEqual([
    { code: "conflict", path: "p", expected: "one of them", received: '{"a":1}' },
  ]);
});
