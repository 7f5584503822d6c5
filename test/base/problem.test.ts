import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Problem, printed, sentence } from "../../src/base/problem.js";
import { holds } from "../support/holds.js";

const LONGEST = 60;

describe("the sentence of a problem", () => {
  const problem: Problem = { code: "missing", path: "elements[2].pickup", expected: "a current", received: "nothing" };

  test("names the line and the path where there are any, then what was expected and what came", () => {
    expect(sentence(problem)).toBe("elements[2].pickup: expected a current, received nothing");
    expect(sentence({ ...problem, line: 7 })).toBe("line 7: elements[2].pickup: expected a current, received nothing");
    expect(sentence({ ...problem, path: "", line: 7 })).toBe("line 7: expected a current, received nothing");
    expect(sentence({ ...problem, path: "" })).toBe("expected a current, received nothing");
  });
});

describe("the printed form of what came", () => {
  test("is what a person would recognise", () => {
    const rows: readonly (readonly [unknown, string])[] = [
      [undefined, "nothing"],
      [null, "null"],
      [true, "true"],
      [0, "0"],
      [-0, "-0"],
      [1.5, "1.5"],
      [Number.NaN, "NaN"],
      [Number.NEGATIVE_INFINITY, "-Infinity"],
      ["", '""'],
      ["4 V", '"4 V"'],
      [() => 1, "a function"],
      [[1, 2], "[1,2]"],
      [{ rms: 1 }, '{"rms":1}'],
    ];
    for (const [value, text] of rows) expect(printed(value)).toBe(text);
  });

  test("tells a big integer from the number that would have been right", () => {
    expect(printed(12n)).toContain("12");
    expect(printed(12n)).not.toBe(printed(12));
    expect(printed(Symbol("tap"))).toContain("tap");
  });

  /** Values on which printing goes wrong in one way or another. */
  function hostile(): readonly unknown[] {
    const cyclic: Record<string, unknown> = {};
    cyclic["self"] = cyclic;
    const trap = () => {
      throw new Error("no");
    };
    return [
      cyclic,
      [cyclic],
      [12n],
      { value: 12n },
      Object.defineProperty({}, "getter", { get: trap, enumerable: true }),
      { toJSON: trap },
      { toJSON: () => undefined },
      { toJSON: () => "x".repeat(1000) },
      new Proxy({}, { get: trap, ownKeys: trap, has: trap, getPrototypeOf: trap }),
      new Proxy([], { get: trap, ownKeys: trap }),
      Object.create(null),
      new Date(Number.NaN),
      "x".repeat(10_000),
      `${"x".repeat(LONGEST - 3)}😀😀`,
      "\ud800".repeat(100),
      "\u0000".repeat(100),
      Array.from({ length: 10_000 }, (_, i) => i),
      Object(Symbol("boxed")),
      -Number.EPSILON / 3,
    ];
  }

  test("never fails and has at most 60 characters, whatever came", () => {
    for (const value of hostile()) expect(printed(value).length).toBeLessThanOrEqual(LONGEST);
    holds(
      fc.property(
        fc.anything({ withBigInt: true, withDate: true, withMap: true, withNullPrototype: true }),
        (value) => {
          expect(printed(value).length).toBeLessThanOrEqual(LONGEST);
        },
      ),
      500,
    );
  });

  test("has at most 60 characters for long symbols and integers too", () => {
    expect(printed(Symbol("x".repeat(1000))).length).toBeLessThanOrEqual(LONGEST);
    expect(printed(10n ** 1000n).length).toBeLessThanOrEqual(LONGEST);
  });

  test("does not fail on a proxy that was revoked", () => {
    const { proxy, revoke } = Proxy.revocable({}, {});
    revoke();
    expect(() => printed(proxy)).not.toThrow();
  });

  test("is text of at most 60 characters as it stands, longer text its beginning with an ellipsis and no half characters", () => {
    holds(
      fc.property(fc.string({ unit: fc.constantFrom("a", "é", "😀"), minLength: 30, maxLength: 70 }), (text) => {
        const whole = JSON.stringify(text);
        const print = printed(text);
        if (whole.length <= LONGEST) expect(print).toBe(whole);
        else {
          expect(print.endsWith("…")).toBe(true);
          expect(whole.startsWith(print.slice(0, -1))).toBe(true);
          expect(print.length).toBeGreaterThanOrEqual(LONGEST - 1);
          expect(print).not.toMatch(/\p{Surrogate}/u);
        }
      }),
    );
  });
});
