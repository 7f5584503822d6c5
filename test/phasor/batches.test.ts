/** The kernels for many phasors against the functions of one, and against 50-digit decimals. */
import fc from "fast-check";
import {
  angle,
  componentsAll,
  magnitude,
  multiply,
  multiplyAll,
  type Phasor,
  polar,
  scale,
  toComponents,
  toPolarAll,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { complex, D, exactly, gap, modulus, PI, type Reference, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { ALPHA, ALPHA_SQUARED, largest, over, plus, real, times } from "./decimals.js";
import { angles, distance, extremePhasors, phasors } from "./phasors.js";

const lists = (of: fc.Arbitrary<Phasor>, each = 1) =>
  fc
    .array(fc.array(of, { minLength: each, maxLength: each }), { maxLength: 8 })
    .map((sets) => sets.flat().flatMap(({ re, im }) => [re, im]));
const anySize = fc.oneof(phasors, extremePhasors);
const at = (list: ArrayLike<number>, i: number): Phasor => ({ re: Number(list[i]), im: Number(list[i + 1]) });
const places = (list: ArrayLike<number>, width: number) =>
  Array.from({ length: list.length / width }, (_, set) => width * set);

/** Runs a batch in each way that it can be run, and says what all of them give. */
function each(list: readonly number[], batch: (source: ArrayLike<number>, out?: Float64Array) => Float64Array) {
  const fresh = batch(list);
  const given = new Float64Array(list.length).fill(Number.NaN);
  const inPlace = Float64Array.from(list);
  expect(batch(Float64Array.from(list), given)).toBe(given);
  expect(batch(inPlace, inPlace)).toBe(inPlace);
  expect([given, inPlace]).toEqual([fresh, fresh]);
  expect(fresh.some((x) => Object.is(x, -0) || !Number.isFinite(x))).toBe(false);
  return fresh;
}

/** What it raises where one of the functions of one phasor raises, else its result. */
function resultOf<T>(work: () => T): T | string {
  try {
    return work();
  } catch {
    return String(problemsOf(work)[0]?.code);
  }
}

describe("products of many phasors", () => {
  test("are those of one, to the bit and at every size", () => {
    holds(
      fc.property(fc.array(fc.tuple(anySize, anySize), { maxLength: 8 }), (pairs) => {
        const fit = pairs.filter(([a, b]) => typeof resultOf(() => multiply(a, b)) === "object");
        const [p, q] = [0, 1].map((side) => fit.flatMap((pair) => [pair[side]?.re, pair[side]?.im] as number[]));
        const products = each(p as number[], (a, out) => multiplyAll(a, q as number[], out));
        expect(Array.from(products)).toEqual(
          fit.flatMap(([a, b]) => {
            const { re, im } = multiply(a, b);
            return [re, im];
          }),
        );
        const second = Float64Array.from(q as number[]);
        expect(multiplyAll(p as number[], second, second)).toEqual(products);
      }),
    );
  });

  test("are squares where both lists are one, which may be filled too", () => {
    const list = Float64Array.of(1, 2, -3, 0.5);
    expect(Array.from(multiplyAll(list, list, list))).toEqual([-3, 4, 8.75, -3]);
  });
});

describe("symmetrical components of many sets", () => {
  test("are within 5e-16 of the largest phase of 50-digit values", () => {
    holds(
      fc.property(lists(anySize, 3), (list) => {
        const abc = list.map((x) => x * 0.2);
        const components = each(abc, componentsAll);
        for (const i of places(abc, 6)) {
          const [a, b, c] = [complex(at(abc, i)), complex(at(abc, i + 2)), complex(at(abc, i + 4))];
          const slack = largest(a, b, c)
            .times(5e-16)
            .plus(exactly(4 * 5e-324));
          for (const [k, sum] of [
            plus(a, b, c),
            plus(a, times(ALPHA, b), times(ALPHA_SQUARED, c)),
            plus(a, times(ALPHA_SQUARED, b), times(ALPHA, c)),
          ].entries())
            expect(gap(at(components, i + 2 * k), over(sum, real(3))).lte(slack)).toBe(true);
        }
      }),
      50,
    );
  });

  test("are refused only where those of one set are, at the end of the range of a double", () => {
    const ends = fc.constantFrom(0, 1e308, -1e308, 1.7e308, -1.7e308, 5e307, 1);
    const sets = fc.record({ re: ends, im: ends });
    holds(
      fc.property(sets, sets, sets, (a, b, c) => {
        const all = resultOf(() => componentsAll([a, b, c].flatMap(({ re, im }) => [re, im])));
        const one = resultOf(() => toComponents({ a, b, c }));
        if (typeof all === "string") expect(one).toBe(all);
        else {
          const zero = over(plus(complex(a), complex(b), complex(c)), real(3));
          expect(gap(at(all, 0), zero).lte(exactly(1e293))).toBe(true);
          expect(all.some((x) => !Number.isFinite(x))).toBe(false);
        }
        if (typeof one === "object" && typeof all === "object")
          for (const [k, name] of (["zero", "positive", "negative"] as const).entries())
            expect(distance(scale(at(all, 2 * k), 2 ** -10), scale(one[name], 2 ** -10))).toBeLessThanOrEqual(1e290);
      }),
      500,
    );
  });

  test("of one phase alone are a third of it", () => {
    expect(Array.from(componentsAll([9, -3, 0, 0, 0, 0]))).toEqual([3, -1, 3, -1, 3, -1]);
    expect(Array.from(componentsAll([2, 1, 2, 1, 2, 1]))).toEqual([2, 1, 0, 0, 0, 0]);
    // Neither −0 nor what underflows to it comes out.
    const nothing = Array.from({ length: 64 }, (_, signs) => [1, 2, 4, 8, 16, 32].map((bit) => (signs & bit ? -0 : 0)));
    expect(Array.from(componentsAll(nothing.flat()))).toEqual(Array(384).fill(0));
    expect(Array.from(componentsAll([-5e-324, -5e-324, 0, 0, 0, 0]))).toEqual([0, 0, 0, 0, 0, 0]);
  });
});

/** The angle at 50 digits, by half of it. */
function degreesOf({ re, im }: Phasor): Reference {
  const [x, y] = [exactly(re), exactly(im)];
  if (y.isZero()) return new D(re < 0 ? 180 : 0);
  // tan(angle/2) = y/(r + x), which loses digits left of the imaginary axis, where it is (r − x)/y.
  const r = x.pow(2).plus(y.pow(2)).sqrt();
  const half = re >= 0 ? y.div(r.plus(x)) : r.minus(x).div(y);
  return half.atan().times(360).div(PI);
}

describe("magnitudes and angles of many phasors", () => {
  const near = (step: number) =>
    fc
      .tuple(fc.integer({ min: -24, max: 24 }), spread(-17, 0), fc.constantFrom(1, -1), spread(-3, 6))
      .map(([n, power, side, size]) => polar(10 ** size, step * n + side * 10 ** power));
  const directions = fc.oneof(
    fc.tuple(angles, spread(-3, 6)).map(([degrees, power]) => polar(10 ** power, degrees)),
    near(45),
    near(22.5),
    // Where the nearest axis gives way to the nearest diagonal.
    fc
      .tuple(fc.constantFrom(16 / 7, 7 / 16), spread(-3e-16, 3e-16), fc.constantFrom(1, -1), fc.constantFrom(1, -1))
      .map(([slope, aside, right, up]) => ({ re: right, im: up * slope * (1 + aside) })),
  );

  test("are within 2.3e-16 and 5e-16 of themselves of 50-digit values", () => {
    holds(
      fc.property(fc.array(directions, { minLength: 1, maxLength: 4 }), (list) => {
        const result = each(
          list.flatMap(({ re, im }) => [re, im]),
          toPolarAll,
        );
        list.forEach((p, k) => {
          const [size, degrees] = [modulus(complex(p)), degreesOf(p)];
          expect(
            exactly(Number(result[2 * k]))
              .minus(size)
              .abs()
              .lte(size.times(2.3e-16)),
          ).toBe(true);
          expect(
            exactly(Number(result[2 * k + 1]))
              .minus(degrees)
              .abs()
              .lte(degrees.abs().times(5e-16)),
          ).toBe(true);
        });
      }),
      200,
    );
  });

  test("are those of one phasor within their accuracies, at every size", () => {
    holds(
      fc.property(lists(anySize), (list) => {
        const fit = places(list, 2).filter((i) => typeof resultOf(() => magnitude(at(list, i))) === "number");
        const kept = fit.flatMap((i) => [Number(list[i]), Number(list[i + 1])]);
        const result = each(kept, toPolarAll);
        for (const i of places(kept, 2)) {
          expect(result[i]).toBe(magnitude(at(kept, i)));
          const degrees = angle(at(kept, i));
          expect(Math.abs(Number(result[i + 1]) - degrees)).toBeLessThanOrEqual(1.2e-15 * Math.abs(degrees) + 1e-321);
        }
      }),
    );
  });

  test("are exact on the axes and the diagonals, on (−180, 180], and 0 for 0", () => {
    const rows: readonly (readonly [number, number, number])[] = [
      [0, 0, 0],
      [-0, -0, 0],
      [-0, 0, 0],
      [3, 0, 0],
      [3, -0, 0],
      [3, 3, 45],
      [0, 3, 90],
      [-0, 3, 90],
      [-3, 3, 135],
      [-3, 0, 180],
      [-3, -0, 180],
      [-3, -3, -135],
      [0, -3, -90],
      [3, -3, -45],
      [-1, 1e-300, 180],
      [-1, -1e-300, 180],
      [-1, -5e-324, 180],
    ];
    for (const size of [1, 2 ** 400, 2 ** -400, 2 ** 600, 2 ** -700]) {
      const list = rows.flatMap(([re, im]) => [re * size, im * size]);
      const degrees = toPolarAll(list).filter((_, i) => i % 2 === 1);
      expect(Array.from(degrees)).toEqual(rows.map(([, , expected]) => expected));
    }
  });

  test("take the plain way and the careful one by the size", () => {
    // 3, 4 and 5 at sizes whose squares are in the range, at its ends, and beyond.
    for (const power of [0, 400, 497, 499, 600, 1020, -400, -497, -499, -700, -1060]) {
      const unit = 2 ** power;
      const [size, degrees] = toPolarAll([3 * unit, 4 * unit]);
      expect(size).toBe(5 * unit);
      expect(ulpsOff(Number(degrees), degreesOf({ re: 3, im: 4 }))).toBeLessThanOrEqual(3);
    }
  });
});
