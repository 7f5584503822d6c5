import {
  add,
  angle,
  conjugate,
  divide,
  magnitude,
  multiply,
  negate,
  type Phasor,
  rotate,
  scale,
  subtract,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const GOOD = { re: 3, im: 4 };
const HUGE = { re: 1.7e308, im: 1.7e308 };

function problem(work: () => unknown): string {
  const [first, ...more] = problemsOf(work);
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

/** What is no phasor, and what is wrong with it below the path of the phasor. */
const WRONG: readonly (readonly [unknown, string])[] = [
  [{ re: Number.NaN, im: 0 }, ".re not-finite"],
  [{ re: 0, im: Number.NEGATIVE_INFINITY }, ".im not-finite"],
  [{ re: "3", im: 4 }, ".re wrong-type"],
  [{ re: 3 }, ".im missing"],
  [{ im: 4 }, ".re missing"],
  [undefined, " missing"],
  [null, " wrong-type"],
  [5, " wrong-type"],
  [[3, 4], " wrong-type"],
];

describe("phasors that are none", () => {
  test.each(Object.entries({ add, subtract, multiply, divide }))("are told apart as a and b: %s", (_, operation) => {
    for (const [wrong, what] of WRONG) {
      expect(problem(() => operation(wrong as Phasor, GOOD))).toBe(`a${what}`);
      expect(problem(() => operation(GOOD, wrong as Phasor))).toBe(`b${what}`);
    }
  });

  test("are told as p where there is but one", () => {
    const operations = [magnitude, angle, negate, conjugate, (p: Phasor) => scale(p, 2), (p: Phasor) => rotate(p, 30)];
    for (const operation of operations)
      for (const [wrong, what] of WRONG) expect(problem(() => operation(wrong as Phasor))).toBe(`p${what}`);
  });

  test("may carry keys beyond their parts, which are data", () => {
    expect(add({ ...GOOD, name: "va" } as Phasor, GOOD)).toEqual({ re: 6, im: 8 });
  });
});

describe("factors and angles that are none", () => {
  test("are told by name", () => {
    for (const [wrong, code] of [
      [Number.NaN, "not-finite"],
      ["2", "wrong-type"],
      [undefined, "missing"],
    ] as const) {
      expect(problem(() => scale(GOOD, wrong as number))).toBe(`factor ${code}`);
      expect(problem(() => rotate(GOOD, wrong as number))).toBe(`degrees ${code}`);
    }
  });
});

describe("results that are none", () => {
  test("are refused: a division by zero of either sign", () => {
    for (const zero of [
      { re: 0, im: 0 },
      { re: -0, im: 0 },
      { re: -0, im: -0 },
    ])
      for (const p of [GOOD, zero]) expect(problem(() => divide(p, zero))).toBe("b out-of-range");
  });

  test("are refused beyond the range of a double, in either part", () => {
    expect(problem(() => add(HUGE, HUGE))).toBe(" out-of-range");
    expect(problem(() => add({ re: 0, im: 1.7e308 }, HUGE))).toBe(" out-of-range");
    expect(problem(() => subtract(HUGE, negate(HUGE)))).toBe(" out-of-range");
    expect(problem(() => multiply(HUGE, GOOD))).toBe(" out-of-range");
    expect(problem(() => scale(HUGE, -2))).toBe(" out-of-range");
    expect(problem(() => rotate(HUGE, 45))).toBe(" out-of-range");
    expect(problem(() => divide(GOOD, { re: 5e-324, im: 0 }))).toBe(" out-of-range");
    expect(problem(() => magnitude(HUGE))).toBe(" out-of-range");
  });

  test("tell the parts that would have come", () => {
    const [first] = problemsOf(() => add({ re: 1, im: 1.7e308 }, { re: 2, im: 1.7e308 }));
    expect(first).toMatchObject({ expected: "a sum within the range of a double", received: '"3 + jInfinity"' });
  });
});
