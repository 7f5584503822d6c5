import fc from "fast-check";
import {
  add,
  angle,
  conjugate,
  divide,
  multiply,
  negate,
  normalizeAngle,
  type Phasor,
  rotate,
  scale,
  subtract,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";
import { angles, distance, isZero, phasors, sizeOf } from "./phasors.js";

const EPSILON = Number.EPSILON;

describe("sums and differences of phasors", () => {
  test("commute, and a difference undoes a sum to the rounding of the larger", () => {
    holds(
      fc.property(phasors, phasors, (a, b) => {
        expect(add(a, b)).toEqual(add(b, a));
        expect(subtract(a, b)).toEqual(negate(subtract(b, a)));
        expect(distance(subtract(add(a, b), b), a)).toBeLessThanOrEqual(2 * EPSILON * (sizeOf(a) + sizeOf(b)));
      }),
    );
  });

  test("with the negative are the difference, to the bit", () => {
    holds(
      fc.property(phasors, phasors, (a, b) => {
        expect(add(a, negate(b))).toEqual(subtract(a, b));
        expect(subtract(a, a)).toEqual({ re: 0, im: 0 });
      }),
    );
  });
});

describe("products and quotients of phasors", () => {
  test("commute and distribute over sums", () => {
    holds(
      fc.property(phasors, phasors, phasors, (a, b, c) => {
        expect(multiply(a, b)).toEqual(multiply(b, a));
        const apart = distance(multiply(a, add(b, c)), add(multiply(a, b), multiply(a, c)));
        expect(apart).toBeLessThanOrEqual(8 * EPSILON * sizeOf(a) * (sizeOf(b) + sizeOf(c)));
      }),
    );
  });

  test("multiply and divide magnitudes, add and subtract angles", () => {
    const apart = (a: number, b: number) => Math.abs(normalizeAngle(a - b));
    holds(
      fc.property(phasors, phasors, (a, b) => {
        fc.pre(!isZero(a) && !isZero(b));
        const [product, quotient] = [multiply(a, b), divide(a, b)];
        expect(Math.abs(sizeOf(product) / (sizeOf(a) * sizeOf(b)) - 1)).toBeLessThanOrEqual(8 * EPSILON);
        expect(Math.abs(sizeOf(quotient) / (sizeOf(a) / sizeOf(b)) - 1)).toBeLessThanOrEqual(20 * EPSILON);
        expect(apart(angle(product), angle(a) + angle(b))).toBeLessThanOrEqual(1e-12);
        expect(apart(angle(quotient), angle(a) - angle(b))).toBeLessThanOrEqual(1e-12);
      }),
    );
  });

  test("undo each other", () => {
    holds(
      fc.property(phasors, phasors, (a, b) => {
        fc.pre(!isZero(b));
        // 2e-15 of a quotient and 4e-16 of a product, as stated.
        expect(distance(divide(multiply(a, b), b), a)).toBeLessThanOrEqual(2.4e-15 * sizeOf(a));
        expect(distance(multiply(divide(a, b), b), a)).toBeLessThanOrEqual(2.4e-15 * sizeOf(a));
      }),
    );
  });

  test("with the conjugate are the squared magnitude, without an imaginary part", () => {
    holds(
      fc.property(phasors, phasors, (a, b) => {
        const { re, im } = multiply(a, conjugate(a));
        expect(im).toBe(0);
        expect(Math.abs(re - sizeOf(a) ** 2)).toBeLessThanOrEqual(4 * EPSILON * re);
        expect(conjugate(multiply(a, b))).toEqual(multiply(conjugate(a), conjugate(b)));
      }),
    );
  });
});

describe("a phasor turned", () => {
  test("by quarters is exact", () => {
    holds(
      fc.property(phasors, fc.integer({ min: -40, max: 40 }), (p, turns) => {
        const [re, im] = [p.re + 0, p.im + 0];
        expect(rotate(p, 360 * turns)).toEqual({ re, im });
        expect(rotate(p, 360 * turns + 90)).toEqual({ re: 0 - im, im: re });
        expect(rotate(p, 360 * turns + 180)).toEqual({ re: 0 - re, im: 0 - im });
        expect(rotate(p, 360 * turns - 90)).toEqual({ re: im, im: 0 - re });
      }),
    );
  });

  test("keeps its magnitude, leads by the angle, and comes back when turned back", () => {
    holds(
      fc.property(phasors, angles, (p, degrees) => {
        const there = rotate(p, degrees);
        expect(Math.abs(sizeOf(there) - sizeOf(p))).toBeLessThanOrEqual(4 * EPSILON * sizeOf(p));
        expect(distance(rotate(there, -degrees), p)).toBeLessThanOrEqual(8e-16 * sizeOf(p));
        if (!isZero(p)) expect(Math.abs(normalizeAngle(angle(there) - angle(p) - degrees))).toBeLessThanOrEqual(1e-12);
      }),
    );
  });
});

describe("a phasor scaled, negated or conjugated", () => {
  test("is so part by part, to the bit", () => {
    holds(
      fc.property(phasors, spread(-1e3, 1e3), (p, factor) => {
        expect(scale(p, factor)).toEqual({ re: p.re * factor + 0, im: p.im * factor + 0 });
        expect(scale(p, -1)).toEqual(negate(p));
        expect(negate(negate(p))).toEqual({ re: p.re + 0, im: p.im + 0 });
        expect(conjugate(p)).toEqual({ re: p.re + 0, im: 0 - p.im });
        expect(conjugate(conjugate(p))).toEqual(negate(negate(p)));
      }),
    );
  });
});

test("no operation on phasors gives −0, not even where a product or quotient underflows", () => {
  const parts = fc.constantFrom(0, -0, 1, -1, 1e-200, -1e-200);
  const small: fc.Arbitrary<Phasor> = fc.record({ re: parts, im: parts });
  const check = ({ re, im }: Phasor) => expect([Object.is(re, -0), Object.is(im, -0)]).toEqual([false, false]);
  holds(
    fc.property(small, small, parts, fc.constantFrom(0, -0, 90, -90, 180, 45, -360), (a, b, factor, degrees) => {
      const results = [add(a, b), subtract(a, b), multiply(a, b), scale(a, factor)];
      results.push(negate(a), conjugate(a), rotate(a, degrees));
      if (!isZero(b)) results.push(divide(a, b), divide(a, scale(b, 1e100)), divide(scale(a, 1e-200), b));
      results.forEach(check);
    }),
    1000,
  );
  check(divide({ re: -1e-300, im: 1e-300 }, { re: 1e300, im: 0 }));
});
