import fc from "fast-check";
import { describe, expect, test, vi } from "vitest";
import { InputError, joinPaths, retold, within } from "../../src/base/input-error.js";
import type { Problem } from "../../src/base/problem.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const PICKUP: Problem = { code: "missing", path: "pickup", expected: "a current", received: "nothing" };
const TIME: Problem = { code: "wrong-unit", path: "", expected: "a time", received: '"4 V"', line: 7 };

/** The same module loaded a second time, as the CommonJS build or a second installed version would be. */
async function secondCopy() {
  vi.resetModules();
  const copy = await import("../../src/base/input-error.js");
  expect(copy.InputError).not.toBe(InputError);
  return copy;
}

describe("the error of this library", () => {
  test("is a RangeError that carries its problems as data and says each on a line of its own", () => {
    const error = new InputError([PICKUP, TIME]);
    expect(error).toBeInstanceOf(RangeError);
    expect(error.name).toBe("InputError");
    expect(error.problems).toEqual([PICKUP, TIME]);
    expect(error.message).toBe('pickup: expected a current, received nothing\nline 7: expected a time, received "4 V"');
    expect(String(error)).toContain("InputError: pickup");
  });

  test("is recognised across copies of the library, in both directions", async () => {
    const copy = await secondCopy();
    expect(new copy.InputError([PICKUP])).toBeInstanceOf(InputError);
    expect(new InputError([PICKUP])).toBeInstanceOf(copy.InputError);
  });

  test("is recognised by its brand alone, as another version of the library sets it", () => {
    const foreign = Object.assign(new RangeError("pickup"), {
      problems: [PICKUP],
      [Symbol.for("tripwright.InputError")]: true,
    });
    expect(foreign).toBeInstanceOf(InputError);
    expect(() =>
      within("elements[2]", () => {
        throw foreign;
      }),
    ).toThrow("elements[2].pickup: expected a current, received nothing");
  });

  test("is nothing else", () => {
    const others = [new RangeError("x"), new Error("x"), { name: "InputError", problems: [] }, null, undefined, "x", 1];
    for (const value of others) expect(value instanceof InputError).toBe(false);
  });

  test("keeps its brand out of what is enumerated, printed and copied", () => {
    expect(Object.keys(new InputError([PICKUP])).sort()).toEqual(["name", "problems"]);
    expect(JSON.stringify({ ...new InputError([PICKUP]) })).not.toContain("tripwright");
  });
});

describe("paths", () => {
  test("are joined by a dot, by nothing before an index, and left alone beside nothing", () => {
    expect(joinPaths("elements[2]", "pickup")).toBe("elements[2].pickup");
    expect(joinPaths("elements", "[2].pickup")).toBe("elements[2].pickup");
    expect(joinPaths("", "pickup")).toBe("pickup");
    expect(joinPaths("elements", "")).toBe("elements");
    expect(joinPaths("", "")).toBe("");
  });

  test("may be joined in any order", () => {
    const path = fc.constantFrom("", "a", "b.c", "[3]", "[0].d");
    holds(
      fc.property(path, path, path, (a, b, c) => {
        expect(joinPaths(joinPaths(a, b), c)).toBe(joinPaths(a, joinPaths(b, c)));
      }),
    );
  });
});

describe("work within a place", () => {
  const raise = (error: unknown) => () => {
    throw error;
  };

  test("returns its result", () => {
    expect(within("elements[2]", () => 5)).toBe(5);
  });

  test("gets its place in front of the path of every problem, the rest unchanged", () => {
    const error = new InputError([PICKUP, TIME]);
    const seen = problemsOf(() => within("relay", () => within("elements[2]", raise(error))));
    expect(seen).toEqual([
      { ...PICKUP, path: "relay.elements[2].pickup" },
      { ...TIME, path: "relay.elements[2]" },
    ]);
    expect(error.problems).toEqual([PICKUP, TIME]);
  });

  test("re-roots the problems of another copy of the library too", async () => {
    const copy = await secondCopy();
    const seen = problemsOf(() => within("elements[2]", raise(new copy.InputError([PICKUP]))));
    expect(seen).toEqual([{ ...PICKUP, path: "elements[2].pickup" }]);
  });

  test("passes any other error on as it is", () => {
    const error = new TypeError("a slip in the code");
    expect(() => within("elements[2]", raise(error))).toThrow(error);
  });
});

describe("work whose problems are told otherwise", () => {
  const otherwise = (problem: Problem): Problem => ({ ...problem, received: "4 A", path: `${problem.path}!` });

  test("returns its result, and lets other errors pass as they are", () => {
    expect(retold(otherwise, () => 5)).toBe(5);
    const slip = new TypeError("not a problem");
    expect(() =>
      retold(otherwise, () => {
        throw slip;
      }),
    ).toThrow(slip);
  });

  test("raises every problem as it is told, also those of another copy of the library", async () => {
    const copy = await secondCopy();
    const seen = problemsOf(() =>
      retold(otherwise, () => {
        throw new copy.InputError([PICKUP, TIME]);
      }),
    );
    expect(seen).toEqual([
      { ...PICKUP, received: "4 A", path: "pickup!" },
      { ...TIME, received: "4 A", path: "!" },
    ]);
  });
});
