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
      [-0, "0"],
      [1.5, "1.5"],
      [Number.NaN, "NaN"],
      [Number.NEGATIVE_INFINITY, "-Infinity"],
      ["", '""'],
      ["4 V", '"4 V"'],
      [() => 1, "function"],
      [[1, 2], "[1,2]"],
      [{ rms: 1 }, '{"rms":1}'],
    ];
    for (const [value, text] of rows) expect(printed(value)).toBe(text);
  });

  test("names what has no printed form by its type, so that a big integer does not look like a number", () => {
    expect(printed(12n)).toBe("bigint");
    expect(printed(Symbol("tap"))).toBe("symbol");
    expect(printed({ value: 12n })).toBe("object");
  });

  const length = (text: string) => [...text].length;

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
    for (const value of hostile()) expect(length(printed(value))).toBeLessThanOrEqual(LONGEST);
    holds(
      fc.property(
        fc.anything({ withBigInt: true, withDate: true, withMap: true, withNullPrototype: true }),
        (value) => {
          expect(length(printed(value))).toBeLessThanOrEqual(LONGEST);
        },
      ),
      500,
    );
  });

  test("does not fail on a proxy that was revoked", () => {
    const { proxy, revoke } = Proxy.revocable({}, {});
    revoke();
    expect(() => printed(proxy)).not.toThrow();
  });

  test("is text of at most 60 characters as it stands, longer text its beginning with an ellipsis and no half characters", () => {
    holds(
      fc.property(fc.string({ unit: fc.constantFrom("a", "é", "😀"), minLength: 30, maxLength: 150 }), (text) => {
        const whole = JSON.stringify(text);
        const print = printed(text);
        if (length(whole) <= LONGEST) expect(print).toBe(whole);
        else {
          expect(print.endsWith("…")).toBe(true);
          expect(whole.startsWith(print.slice(0, -1))).toBe(true);
          expect(length(print)).toBe(LONGEST);
          expect(print).not.toMatch(/\p{Surrogate}/u);
        }
      }),
    );
  });
});
