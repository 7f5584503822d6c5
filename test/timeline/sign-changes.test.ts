import { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { decimal } from "../../src/base/exact.js";
import { type Course, courseAt, derivative, polynomial, valueAndSlope } from "../../src/timeline/course.js";
import { signChanges } from "../../src/timeline/sign-changes.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });
const read = (x: number) => decimal(x, "");
const found = (course: Course, end: number) => signChanges(course, read(end)).map(Number);
const size = fc.integer({ min: -90, max: 90 }).map((n) => n / 10);

describe("the sign changes of a polynomial", () => {
  test("of the second degree are its roots in order, whichever way it opens", () => {
    const root = fc.integer({ min: 1, max: 99 });
    holds(
      fc.property(
        root,
        root,
        size.filter((a) => a !== 0),
        (one, other, a) => {
          fc.pre(one !== other);
          // a · (t − one) · (t − other)
          const course = polynomial(read(a * one * other), read(-a * (one + other)), read(a));
          const [first, second, ...further] = found(course, 100) as [number, number];
          expect(further).toEqual([]);
          expect(first).toBeCloseTo(Math.min(one, other), 9);
          expect(second).toBeCloseTo(Math.max(one, other), 9);
        },
      ),
    );
  });

  test("that touches zero are none, and neither are those of one that never meets it", () => {
    // (t − 1)², and 1 + t².
    expect(found(polynomial(read(1), read(-2), read(1)), 5)).toEqual([]);
    expect(found(polynomial(read(1), read(0), read(1)), 5)).toEqual([]);
  });
});

describe("a course and its slope at an instant", () => {
  test("are the course and its derivative there", () => {
    const term = fc
      .tuple(fc.nat(9), fc.array(size, { minLength: 1, maxLength: 4 }))
      .map(([rate, powers]) => ({ rate: read(rate), powers: powers.map(read) }));
    holds(
      fc.property(fc.array(term, { minLength: 1, maxLength: 3 }), fc.integer({ min: 0, max: 50 }), (course, tenths) => {
        const t = read(tenths / 10);
        const [value, slope] = valueAndSlope(course, t);
        const off = (a: Decimal.Value, b: Decimal.Value) => new D(a).minus(b).abs().toNumber();
        expect(off(value.toString(), courseAt(course, t).toString())).toBeLessThan(1e-40);
        expect(off(slope.toString(), courseAt(derivative(course), t).toString())).toBeLessThan(1e-40);
      }),
    );
  });

  test("by hand: t² · exp(−t) at 3 s is 9 · exp(−3), and changes by 2t − t² of it, −3 · exp(−3)", () => {
    const [value, slope] = valueAndSlope([{ rate: read(1), powers: [read(0), read(0), read(1)] }], read(3));
    expect(Number(value)).toBeCloseTo(9 * Math.exp(-3), 14);
    expect(Number(slope)).toBeCloseTo(-3 * Math.exp(-3), 14);
  });
});
