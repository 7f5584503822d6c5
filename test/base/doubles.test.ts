import { describe, expect, test } from "vitest";
import { doubles, ofLength, room } from "../../src/base/doubles.js";
import { problemsOf } from "../support/failure.js";

const problem = (work: () => unknown) => {
  const [first, ...more] = problemsOf(work);
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
};

describe("a list of numbers", () => {
  test("is a Float64Array already, whatever it holds", () => {
    const list = Float64Array.of(1, Number.NaN);
    expect(doubles(list, "list", "a number")).toBe(list);
  });

  test("is copied from any other list of numbers", () => {
    const plain = [0.5, -0, 3];
    const copy = doubles(plain, "list", "a number");
    plain[0] = 7;
    expect(copy).toEqual(Float64Array.of(0.5, -0, 3));
    expect(doubles(Uint8Array.of(1, 2), "list", "a number")).toEqual(Float64Array.of(1, 2));
    expect(doubles([], "list", "a number")).toEqual(new Float64Array(0));
  });

  test("is refused by the place of what is no finite number", () => {
    for (const [wrong, code] of [
      [Number.NaN, "not-finite"],
      ["3", "wrong-type"],
      [null, "wrong-type"],
      [undefined, "missing"],
      [3n, "wrong-type"],
    ] as const)
      expect(problem(() => doubles([1, 2, wrong as number], "list", "a number"))).toBe(`list[2] ${code}`);
  });

  test("is no text, no object with a length, no view without one, and not nothing", () => {
    for (const wrong of ["12", { length: 1, 0: 1 }, new DataView(new ArrayBuffer(8)), null, 3])
      expect(problem(() => doubles(wrong as unknown as number[], "list", "a number"))).toBe("list wrong-type");
    expect(problem(() => doubles(undefined as unknown as number[], "list", "a number"))).toBe("list missing");
  });
});

describe("an array to be filled", () => {
  test("is new, or the given one where it fits", () => {
    expect(room(undefined, 3)).toEqual(new Float64Array(3));
    const out = new Float64Array(3);
    expect(room(out, 3)).toBe(out);
    expect(ofLength(out, 3, "b")).toBe(out);
  });

  test("is refused at any other length, and of any other kind", () => {
    for (const length of [0, 2, 4]) expect(problem(() => room(new Float64Array(length), 3))).toBe("out wrong-length");
    for (const wrong of [null, [0, 0, 0], new Float32Array(3), "abc"])
      expect(problem(() => room(wrong as unknown as Float64Array, 3))).toBe("out wrong-type");
    expect(problem(() => ofLength(new Float64Array(2), 3, "b"))).toBe("b wrong-length");
  });
});
