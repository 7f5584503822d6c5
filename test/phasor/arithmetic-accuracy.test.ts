import fc from "fast-check";
import { add, divide, multiply, type Phasor, polar, rotate, subtract } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import {
  type ComplexReference,
  complex,
  cosineOf,
  exactly,
  gap,
  modulus,
  sineOf,
  turned,
  ulpsOff,
} from "../base/reference.js";
import { spread } from "../base/spread.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { angles, extremePhasors, isZero, phasors } from "./phasors.js";

/** Each part of a result below 2.2e-308 has a rounding of its own, of the size of the smallest double. */
const SMALLEST = exactly(2 * 5e-324);

/** Where a double holds the reference, the result is as near as stated; where it does not, the result is refused. */
function expectNear(work: () => Phasor, reference: ComplexReference, accuracy: number): void {
  const size = modulus(reference);
  const larger = reference.re.abs().gt(reference.im.abs()) ? reference.re.abs() : reference.im.abs();
  if (size.lt(exactly(1.79e308))) {
    expect(gap(work(), reference).lte(size.times(accuracy).plus(SMALLEST))).toBe(true);
  } else if (larger.gt(exactly(Number.MAX_VALUE).times(1 + 1e-12))) {
    expect(problemsOf(work)).toMatchObject([{ code: "out-of-range", path: "" }]);
  }
}

describe("arithmetic of phasors against 50-digit decimals, at every size that a double holds", () => {
  test("a quotient is within 2e-15 of its magnitude, or refused beyond the range of a double", () => {
    holds(
      fc.property(extremePhasors, extremePhasors, (a, b) => {
        fc.pre(!isZero(b));
        const [p, q] = [complex(a), complex(b)];
        const square = q.re.pow(2).plus(q.im.pow(2));
        const re = p.re.times(q.re).plus(p.im.times(q.im)).div(square);
        const im = p.im.times(q.re).minus(p.re.times(q.im)).div(square);
        expectNear(() => divide(a, b), { re, im }, 2e-15);
      }),
      500,
    );
  });

  test("a quotient of the largest and the smallest doubles by themselves is 1", () => {
    for (const size of [Number.MAX_VALUE, 1e300, 1e-300, 2 ** -1022, 5e-324]) {
      expect(divide({ re: size, im: 0 }, { re: size, im: 0 })).toEqual({ re: 1, im: 0 });
      expect(divide({ re: 0, im: size }, { re: size, im: 0 })).toEqual({ re: 0, im: 1 });
      expect(divide({ re: size, im: size }, { re: size, im: size })).toEqual({ re: 1, im: 0 });
      expect(divide({ re: size, im: 0 }, { re: size, im: size })).toEqual({ re: 0.5, im: -0.5 });
    }
  });

  test("a product is within 4e-16 of its magnitude, or refused beyond the range of a double", () => {
    holds(
      fc.property(extremePhasors, extremePhasors, (a, b) => {
        const [p, q] = [complex(a), complex(b)];
        const re = p.re.times(q.re).minus(p.im.times(q.im));
        const im = p.re.times(q.im).plus(p.im.times(q.re));
        expectNear(() => multiply(a, b), { re, im }, 4e-16);
      }),
      500,
    );
  });

  test("a product whose parts fit a double is given, though its magnitude and partial products do not", () => {
    const quarter = fc.integer({ min: 0, max: 3 }).map((turns) => 45 + 90 * turns);
    holds(
      fc.property(spread(1, 300), spread(1.8, 2.5), angles, quarter, spread(-6, 6), (power, size, at, sum, aside) => {
        const a = polar(10 ** power, at);
        const b = polar(size * 10 ** (308 - power), sum + aside - at);
        const [p, q] = [complex(a), complex(b)];
        const re = p.re.times(q.re).minus(p.im.times(q.im));
        const im = p.re.times(q.im).plus(p.im.times(q.re));
        const larger = re.abs().gt(im.abs()) ? re.abs() : im.abs();
        const most = exactly(Number.MAX_VALUE);
        if (larger.gt(most.times(1 + 1e-15))) expect(problemsOf(() => multiply(a, b))).toMatchObject([{ path: "" }]);
        else if (larger.lt(most.times(1 - 1e-15)))
          expect(gap(multiply(a, b), { re, im }).lte(modulus({ re, im }).times(4e-16))).toBe(true);
      }),
    );
    // 1.125 · 2^1024 is beyond the range, and 0.1875 · 2^1024 less of it is not.
    const half = 2 ** 512;
    expect(multiply({ re: 1.125 * half, im: 0.5 * half }, { re: half, im: 0.375 * half })).toEqual({
      re: 1.875 * 2 ** 1023,
      im: 1.84375 * 2 ** 1023,
    });
  });

  test("a turned phasor is within 4e-16 of its magnitude", () => {
    holds(
      fc.property(extremePhasors, angles, (p, degrees) => {
        const { re, im } = complex(p);
        const [cos, sin] = [cosineOf(turned(degrees)), sineOf(turned(degrees))];
        const reference = { re: re.times(cos).minus(im.times(sin)), im: re.times(sin).plus(im.times(cos)) };
        expectNear(() => rotate(p, degrees), reference, 4e-16);
      }),
      200,
    );
  });

  test("sums and differences are the nearest doubles, part by part", () => {
    holds(
      fc.property(phasors, phasors, (a, b) => {
        const [p, q, sum, difference] = [complex(a), complex(b), add(a, b), subtract(a, b)];
        expect(ulpsOff(sum.re, p.re.plus(q.re))).toBeLessThanOrEqual(0.5);
        expect(ulpsOff(sum.im, p.im.plus(q.im))).toBeLessThanOrEqual(0.5);
        expect(ulpsOff(difference.re, p.re.minus(q.re))).toBeLessThanOrEqual(0.5);
        expect(ulpsOff(difference.im, p.im.minus(q.im))).toBeLessThanOrEqual(0.5);
      }),
    );
  });
});
