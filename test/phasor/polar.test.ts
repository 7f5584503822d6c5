import fc from "fast-check";
import { angle, magnitude, normalizeAngle, type Phasor, polar, rect } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { complex, cosineOf, exactly, gap, modulus, sineOf, turned } from "../base/reference.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { angles, extremePhasors } from "./phasors.js";

const magnitudes = fc.oneof(
  fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
  fc.double({ min: 1e-290, max: 1e307, noNaN: true }),
);

describe("a phasor from magnitude and angle", () => {
  test("is within 3e-16 of the magnitude of 50-digit values", () => {
    holds(
      fc.property(magnitudes, angles, (size, degrees) => {
        const [cos, sin] = [cosineOf(turned(degrees)), sineOf(turned(degrees))];
        const reference = { re: exactly(size).times(cos), im: exactly(size).times(sin) };
        expect(gap(polar(size, degrees), reference).lte(exactly(size).times(3e-16))).toBe(true);
      }),
    );
  });

  test("is exact on the axes and where a part is half the magnitude", () => {
    holds(
      fc.property(magnitudes, fc.integer({ min: -40, max: 40 }), (size, turns) => {
        const at = (degrees: number) => polar(size, degrees + 360 * turns);
        expect([at(0), at(90), at(180), at(270)]).toEqual([
          { re: size, im: 0 },
          { re: 0, im: size },
          { re: -size, im: 0 },
          { re: 0, im: -size },
        ]);
        expect([at(60).re, at(120).re, at(240).re, at(300).re]).toEqual([size / 2, -size / 2, -size / 2, size / 2]);
        expect([at(30).im, at(150).im, at(210).im, at(330).im]).toEqual([size / 2, size / 2, -size / 2, -size / 2]);
      }),
    );
  });

  test("has that magnitude and that angle", () => {
    holds(
      fc.property(magnitudes, angles, (size, degrees) => {
        const p = polar(size, degrees);
        // 3e-16 of the phasor, 2.3e-16 of its magnitude, and the rounding of the quotient here.
        expect(Math.abs(magnitude(p) / size - 1)).toBeLessThanOrEqual(3e-16 + 2.3e-16 + Number.EPSILON / 2);
        // 3e-16 rad is 1.7e-14°, and doubles beside 180° are 2.8e-14° apart, beside 720° 1.1e-13°.
        expect(Math.abs(normalizeAngle(angle(p) - degrees))).toBeLessThanOrEqual(3e-13);
      }),
    );
  });

  test("of magnitude 0 is 0 at every angle, without a sign", () => {
    for (const degrees of [0, 30, 90, 180, 210, -90]) expect(polar(0, degrees)).toEqual({ re: 0, im: 0 });
  });

  test("is refused for a negative magnitude and for what is not finite", () => {
    expect(problemsOf(() => polar(-1, 0))).toMatchObject([{ path: "magnitude", code: "out-of-range" }]);
    expect(problemsOf(() => polar(Number.NaN, 0))).toMatchObject([{ path: "magnitude", code: "not-finite" }]);
    expect(problemsOf(() => polar(1, Number.POSITIVE_INFINITY))).toMatchObject([{ path: "angle", code: "not-finite" }]);
    expect(problemsOf(() => polar(1, "0" as never))).toMatchObject([{ path: "angle", code: "wrong-type" }]);
  });
});

describe("a phasor from its parts", () => {
  test("has them as they are, without the sign of a zero", () => {
    holds(
      fc.property(extremePhasors, ({ re, im }) => {
        expect(rect(re, im)).toEqual({ re: re + 0, im: im + 0 });
      }),
    );
    expect(problemsOf(() => rect(Number.NaN, 0))).toMatchObject([{ path: "re", code: "not-finite" }]);
    expect(problemsOf(() => rect(0, undefined as never))).toMatchObject([{ path: "im", code: "missing" }]);
  });
});

describe("the magnitude of a phasor", () => {
  /** Within 2.3e-16 of the exact one; below 2.2e-308 the nearest double may be half the smallest one away. */
  function expectNear(p: Phasor): void {
    const size = modulus(complex(p));
    const apart = exactly(magnitude(p)).minus(size).abs();
    expect(apart.lte(size.times(2.3e-16).plus(exactly(2 ** -1074).div(2)))).toBe(true);
  }

  test("is within 2.3e-16 of 50-digit values, without overflow or underflow on the way", () => {
    holds(
      fc.property(extremePhasors, (p) => {
        fc.pre(modulus(complex(p)).lt(exactly(1.79e308)));
        expectNear(p);
      }),
      500,
    );
    // Found by search: where the errors are largest, at ordinary and at extreme sizes.
    expectNear({ re: 1.515474877057673, im: 0.1658526350007812 });
    expectNear({ re: 1.243364560004288e-200, im: 3.554861134724472e-201 });
  });

  test("is the size of the one part where the other is 0", () => {
    holds(
      fc.property(extremePhasors, ({ re }) => {
        for (const p of [
          { re, im: 0 },
          { re: 0, im: re },
          { re: -re, im: -0 },
        ])
          expect(magnitude(p)).toBe(Math.abs(re));
      }),
    );
  });
});

describe("the angle of a phasor", () => {
  test("is exact on the axes and diagonals, at any size, and 0 for a phasor of nothing", () => {
    for (const x of [5e-324, 1e-300, 1, 1e300, Number.MAX_VALUE]) {
      const all = [
        [x, 0],
        [x, x],
        [0, x],
        [-x, x],
        [-x, 0],
        [-x, -0],
        [-x, -x],
        [0, -x],
        [x, -x],
      ] as const;
      const degrees = all.map(([re, im]) => angle({ re, im }));
      expect(degrees).toEqual([0, 45, 90, 135, 180, 180, -135, -90, -45]);
    }
    for (const re of [0, -0]) for (const im of [0, -0]) expect(angle({ re, im })).toBe(0);
  });

  test("lies in the range that is named, and is the same direction in each", () => {
    holds(
      fc.property(extremePhasors, (p) => {
        const [signed, positive, lagging] = [angle(p), angle(p, "positive"), angle(p, "lagging")];
        expect(angle(p, "signed")).toBe(signed);
        expect(signed > -180 && signed <= 180).toBe(true);
        expect(positive).toBe(normalizeAngle(signed, "positive"));
        expect(lagging).toBe(normalizeAngle(signed, "lagging"));
        for (const degrees of [positive, lagging]) expect(degrees >= 0 && degrees < 360).toBe(true);
      }),
    );
    expect(problemsOf(() => angle({ re: 1, im: 1 }, "Signed" as never))).toMatchObject([{ path: "range" }]);
  });
});
