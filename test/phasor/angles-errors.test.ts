import { angleBetween, type Directions, meanAngle, unwrapAngles } from "tripwright/phasor";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

function problem(work: () => unknown): string {
  const [first, ...more] = problemsOf(work);
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

test("directions that are none are told by their names", () => {
  const wrong: readonly (readonly [unknown, string])[] = [
    [undefined, " missing"],
    [null, " wrong-type"],
    ["90", " wrong-type"],
    [Number.NaN, " not-finite"],
    [Number.NEGATIVE_INFINITY, " not-finite"],
    [[1, 0], " wrong-type"],
    [{ re: 1 }, ".im missing"],
    [{ re: Number.NaN, im: 0 }, ".re not-finite"],
    [{ re: 0, im: -0 }, " out-of-range"],
  ];
  for (const [value, what] of wrong) {
    expect(problem(() => angleBetween({ from: value, to: 0 } as Directions))).toBe(`from${what}`);
    expect(problem(() => angleBetween({ from: { re: 1, im: 1 }, to: value } as Directions))).toBe(`to${what}`);
  }
  for (const none of [null, 5, "0", [0, 90]]) expect(problem(() => angleBetween(none as never))).toBe(" wrong-type");
  expect(problem(() => angleBetween(undefined as never))).toBe(" missing");
  expect(problem(() => angleBetween({ from: 0, to: 90, until: 90 } as Directions))).toBe("until unknown-key");
});

test("lists of angles that are none are told, and the place of a bad one", () => {
  for (const work of [unwrapAngles, meanAngle] as readonly ((angles: never) => unknown)[]) {
    for (const none of [null, 5, "350", {}, { length: 2 }, new DataView(new ArrayBuffer(8)), new Set([1])])
      expect(problem(() => work(none as never))).toBe("angles wrong-type");
    expect(problem(() => work(undefined as never))).toBe("angles missing");
    expect(problem(() => work([0, "90"] as never))).toBe("angles[1] wrong-type");
    expect(problem(() => work([0, undefined, 90] as never))).toBe("angles[1] missing");
    expect(problem(() => work([Number.NaN] as never))).toBe("angles[0] not-finite");
    expect(problem(() => work(Float64Array.of(0, 1, Number.POSITIVE_INFINITY) as never))).toBe("angles[2] not-finite");
    expect(problem(() => work(BigInt64Array.of(1n) as never))).toBe("angles[0] wrong-type");
  }
  expect(problem(() => meanAngle([]))).toBe("angles wrong-length");
});
