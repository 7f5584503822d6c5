import { componentsAll, multiplyAll, toPolarAll } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

/** Each batch on one list, by the name under which its problems are told. */
const BATCHES: readonly (readonly [string, (list: ArrayLike<number>, out?: Float64Array) => Float64Array])[] = [
  ["a", (list, out) => multiplyAll(list, new Float64Array(list?.length ?? 0).fill(1), out)],
  ["b", (list, out) => multiplyAll(new Float64Array(list?.length ?? 0).fill(1), list, out)],
  ["abc", componentsAll],
  ["phasors", toPolarAll],
];

const problem = (work: () => unknown): string => {
  const [first, ...more] = problemsOf(work);
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
};

describe.each(BATCHES)("a list %s", (name, batch) => {
  test("with an element that is not finite is refused at its place, near the beginning and far from it", () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      for (const place of [0, 1, 2, 5, 6_001, 11_999]) {
        const list = new Float64Array(12_000).fill(1).fill(bad, place, place + 1);
        expect(problem(() => batch(list))).toBe(`${name}[${place}] not-finite`);
        expect(problem(() => batch(list, list))).toBe(`${name}[${place}] not-finite`);
        expect(problem(() => batch(Array.from(list)))).toBe(`${name}[${place}] not-finite`);
      }
    }
  });

  test("is filled up to what is refused, and no further", () => {
    const list = new Float64Array(36).fill(3).fill(Number.NaN, 13, 14);
    const out = new Float64Array(36).fill(-7);
    expect(problem(() => batch(list, out))).toBe(`${name}[13] not-finite`);
    expect(out.slice(0, 12).includes(-7)).toBe(false);
    expect(out.slice(14).every((x) => x === -7)).toBe(true);
  });

  test("with what is no number is refused rather than converted", () => {
    for (const wrong of ["1", null, [2], true, 3n]) {
      const list = [1, 2, 3, wrong, 5, 6] as number[];
      expect(problem(() => batch(list))).toBe(`${name}[3] wrong-type`);
    }
    expect(problem(() => batch(BigInt64Array.of(1n, 2n, 3n, 4n, 5n, 6n) as unknown as number[]))).toBe(
      `${name}[0] wrong-type`,
    );
    // A hole is nothing.
    expect(problem(() => batch(Object.assign([1, 2, 3], { 4: 5, 5: 6 })))).toBe(`${name}[3] missing`);
  });

  test("that is none is refused", () => {
    for (const wrong of [null, 5, "1212", {}, { length: 6 }, new DataView(new ArrayBuffer(48)), () => 6])
      expect(problem(() => batch(wrong as unknown as number[]))).toBe(`${name} wrong-type`);
    expect(problem(() => batch(undefined as unknown as number[]))).toBe(`${name} missing`);
  });

  test("may be of any kind of numbers, or empty", () => {
    const plain = Array.from(batch([1, 2, 3, 4, 5, 6]));
    for (const list of [Float32Array, Int16Array, Float64Array].map((Kind) => Kind.of(1, 2, 3, 4, 5, 6)))
      expect(Array.from(batch(list))).toEqual(plain);
    expect(batch([])).toEqual(new Float64Array(0));
  });

  test("has the length of whole phasors, and of what it fills", () => {
    expect(problem(() => batch([1]))).toBe(`${name === "b" ? "a" : name} wrong-length`);
    for (const length of [0, 5, 7, 12]) {
      const out = new Float64Array(length);
      expect(problem(() => batch([1, 2, 3, 4, 5, 6], out))).toBe("out wrong-length");
    }
    for (const wrong of [null, "123456", [0, 0, 0, 0, 0, 0], new Float32Array(6)])
      expect(problem(() => batch([1, 2, 3, 4, 5, 6], wrong as unknown as Float64Array))).toBe("out wrong-type");
  });
});

describe("lists that do not go together", () => {
  test("are refused", () => {
    expect(problem(() => multiplyAll([1, 2], [1, 2, 3, 4]))).toBe("b wrong-length");
    expect(problem(() => multiplyAll([1, 2], [1]))).toBe("b wrong-length");
    for (const length of [2, 4, 8, 10])
      expect(problem(() => componentsAll(new Float64Array(length)))).toBe("abc wrong-length");
  });
});

describe("results beyond the range of a double", () => {
  test("are refused at their place", () => {
    const huge = 1.7e308;
    expect(problem(() => multiplyAll([1, 1, huge, 0], [1, 1, 2, 0]))).toBe("a[2] out-of-range");
    expect(problem(() => componentsAll([...Array(6).fill(1), huge, 0, huge, 0, huge, 0]))).toBe("abc[6] out-of-range");
    expect(problem(() => toPolarAll([1, 1, 1, 1, huge, huge]))).toBe("phasors[4] out-of-range");
  });
});
