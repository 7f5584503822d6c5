import fc from "fast-check";
import { add, angleBetween, type Phases, polar, type Rotation, threePhase } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { cosineOf, exactly, gap, sineOf, turned } from "../base/reference.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { angles, sizeOf } from "./phasors.js";

const magnitudes = fc.oneof(
  fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
  fc.double({ min: 1e-290, max: 1e307, noNaN: true }),
);
const rotations = fc.constantFrom<Rotation>("ABC", "ACB");

describe("a balanced set", () => {
  test("is within 8e-16 of the magnitude of 50-digit values, for an angle of any size", () => {
    const anyAngle = fc.oneof(angles, fc.double({ noNaN: true, noDefaultInfinity: true }));
    holds(
      fc.property(magnitudes, anyAngle, rotations, (size, degrees, rotation) => {
        const set = threePhase(size, degrees, rotation);
        const third = rotation === "ABC" ? 120 : -120;
        for (const [phase, turn] of [
          ["a", 0],
          ["b", -third],
          ["c", third],
        ] as const) {
          const exact = turned(degrees).plus(turn);
          const reference = { re: exactly(size).times(cosineOf(exact)), im: exactly(size).times(sineOf(exact)) };
          expect(gap(set[phase], reference).lte(exactly(size).times(8e-16))).toBe(true);
        }
      }),
      100,
    );
  });

  test("stands to the bit where its three angles do", () => {
    const sixteenths = fc.integer({ min: -16_000, max: 16_000 }).map((n) => n / 16);
    holds(
      fc.property(magnitudes, sixteenths, (size, degrees) => {
        const expected = { a: polar(size, degrees), b: polar(size, degrees - 120), c: polar(size, degrees + 120) };
        expect(threePhase(size, degrees)).toEqual(expected);
      }),
    );
    expect(threePhase(100, 90)).toMatchObject({ a: { re: 0, im: 100 }, b: { im: -50 }, c: { im: -50 } });
  });

  test("has phase b lagging in ABC and leading in ACB, where b and c change places", () => {
    holds(
      fc.property(magnitudes, angles, (size, degrees) => {
        const { a, b, c } = threePhase(size, degrees, "ABC");
        expect(angleBetween({ from: a, to: b })).toBeCloseTo(-120, 11);
        expect(angleBetween({ from: a, to: c })).toBeCloseTo(120, 11);
        expect(threePhase(size, degrees, "ACB")).toEqual({ a, b: c, c: b });
        expect(sizeOf(add(add(a, b), c))).toBeLessThanOrEqual(2.4e-15 * size);
      }),
    );
  });

  test("is at 0° in ABC where nothing else is said, and 0 at no magnitude", () => {
    expect(threePhase(63.5)).toEqual(threePhase(63.5, 0, "ABC"));
    const none = { re: 0, im: 0 };
    for (const degrees of [0, 30, -180, 1e300]) expect(threePhase(0, degrees)).toEqual({ a: none, b: none, c: none });
    // Subnormal numbers keep as many digits as they have.
    expect(threePhase(5e-324).a).toEqual({ re: 5e-324, im: 0 });
  });

  test("is refused for a magnitude, an angle or a rotation that is none", () => {
    const at = (...given: readonly unknown[]) =>
      problemsOf(() => (threePhase as (...all: unknown[]) => Phases)(...given));
    expect(at(-1)).toMatchObject([{ path: "magnitude", code: "out-of-range" }]);
    expect(at(null)).toMatchObject([{ path: "magnitude", code: "wrong-type" }]);
    expect(at()).toMatchObject([{ path: "magnitude", code: "missing" }]);
    expect(at(1, "0")).toMatchObject([{ path: "angle", code: "wrong-type" }]);
    expect(at(1, Number.POSITIVE_INFINITY)).toMatchObject([{ path: "angle", code: "not-finite" }]);
    for (const rotation of ["abc", "BCA", "constructor", null, 1])
      expect(at(1, 0, rotation)).toMatchObject([
        { path: "rotation", code: "unknown-name", expected: "one of ABC, ACB" },
      ]);
  });
});
