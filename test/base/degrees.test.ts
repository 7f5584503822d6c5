import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { atan2Degrees, cosDegrees, signedAngle, sinDegrees } from "../../src/base/degrees.js";
import { holds } from "../support/holds.js";
import { cosineOf, D, exactly, PI, sineOf, turned, ulpsOff } from "./reference.js";
import { spread } from "./spread.js";

const anyDouble = fc.double({ noNaN: true, noDefaultInfinity: true });
/** A hair beside a multiple of 45°, where signs, folds and zeros are. */
const nearMultiple = fc
  .tuple(fc.integer({ min: -24, max: 24 }), fc.integer({ min: -16, max: 2 }), spread(-1, 1))
  .map(([eighths, power, share]) => 45 * eighths + share * 10 ** power);
const angles = fc.oneof(
  spread(-720, 720),
  nearMultiple,
  anyDouble, // every exponent is as likely as the next: from subnormal to 1e308
  fc.double({ min: -1e-308, max: 1e-308, noNaN: true }),
);
const TURNS = [-1_000_001, -2, -1, 0, 1, 2, 1_000_000];

describe("sine and cosine of degrees", () => {
  // The angles at which a sine or cosine is rational (Niven's theorem): only 0, ±1/2 and ±1.
  const SINES = { 0: 0, 30: 0.5, 90: 1, 150: 0.5, 180: 0, 210: -0.5, 270: -1, 330: -0.5 };
  const COSINES = { 0: 1, 60: 0.5, 90: 0, 120: -0.5, 180: -1, 240: -0.5, 270: 0, 300: 0.5 };

  test("are exact wherever they are rational, at any number of turns", () => {
    for (const turns of TURNS) {
      for (const [angle, sine] of Object.entries(SINES)) expect(sinDegrees(Number(angle) + 360 * turns)).toBe(sine);
      for (const [angle, cosine] of Object.entries(COSINES))
        expect(cosDegrees(Number(angle) + 360 * turns)).toBe(cosine);
    }
  });

  test("are equal in size on the diagonals, so that the tangent of 45° is 1", () => {
    for (const turns of TURNS) {
      for (const [angle, tangent] of [
        [45, 1],
        [135, -1],
        [225, 1],
        [315, -1],
      ] as const)
        expect(sinDegrees(angle + 360 * turns) / cosDegrees(angle + 360 * turns)).toBe(tangent);
    }
  });

  test("lie within 2 units in the last place of 50-digit values, near their zeros too", () => {
    holds(
      fc.property(angles, (angle) => {
        expect(ulpsOff(sinDegrees(angle), sineOf(turned(angle)))).toBeLessThanOrEqual(2);
        expect(ulpsOff(cosDegrees(angle), cosineOf(turned(angle)))).toBeLessThanOrEqual(2);
      }),
      250,
    );
  });

  test("are odd and even, and change sign over half a turn", () => {
    holds(
      fc.property(angles, (angle) => {
        expect(sinDegrees(-angle)).toBe(0 - sinDegrees(angle));
        expect(cosDegrees(-angle)).toBe(cosDegrees(angle));
      }),
    );
    // Sixteenths of a degree keep the half turn exact in doubles.
    holds(
      fc.property(fc.integer({ min: -100_000, max: 100_000 }), (sixteenths) => {
        expect(sinDegrees(sixteenths / 16 + 180)).toBe(0 - sinDegrees(sixteenths / 16));
        expect(cosDegrees(sixteenths / 16 + 180)).toBe(0 - cosDegrees(sixteenths / 16));
      }),
    );
  });

  test("never are −0", () => {
    holds(
      fc.property(fc.oneof(angles, fc.constantFrom(0, -0, 90, -90, 180, -180, 270, -360, -5e-324)), (angle) => {
        expect(Object.is(sinDegrees(angle), -0) || Object.is(cosDegrees(angle), -0)).toBe(false);
      }),
    );
  });
});

describe("the angle of a point", () => {
  const parts = fc.oneof(anyDouble, spread(-10, 10), fc.constantFrom(0, -0, 1, -1));

  test("lies on (−180, 180], is 0 for the origin, and never is −0", () => {
    holds(
      fc.property(parts, parts, (y, x) => {
        const angle = atan2Degrees(y, x);
        expect(angle > -180 && angle <= 180).toBe(true);
        expect(Object.is(angle, -0)).toBe(false);
      }),
      500,
    );
    for (const zero of [0, -0]) expect(atan2Degrees(zero, zero)).toBe(0);
  });

  test("is exact on the axes and the diagonals, at any size", () => {
    holds(
      fc.property(fc.double({ min: 5e-324, max: Number.MAX_VALUE, noNaN: true }), (size) => {
        expect([atan2Degrees(0, size), atan2Degrees(size, 0), atan2Degrees(-size, 0)]).toEqual([0, 90, -90]);
        expect([atan2Degrees(0, -size), atan2Degrees(-0, -size)]).toEqual([180, 180]);
        expect([atan2Degrees(size, size), atan2Degrees(-size, size)]).toEqual([45, -45]);
        expect([atan2Degrees(size, -size), atan2Degrees(-size, -size)]).toEqual([135, -135]);
      }),
    );
  });

  /** Units in the last place off; a hair above −180 the nearest double is the other end of the range. */
  function off(y: number, x: number): number {
    const reference = D.atan2(exactly(y), exactly(x)).times(180).div(PI);
    const angle = atan2Degrees(y, x);
    return ulpsOff(angle, angle === 180 && reference.isNegative() ? reference.plus(360) : reference);
  }

  test("lies within 3 units in the last place of 50-digit values", () => {
    // Where y/x is below 1e-280 or so, the radians behind the degrees are no longer normal doubles.
    const part = parts.filter((x) => x === 0 || (Math.abs(x) > 1e-140 && Math.abs(x) < 1e140));
    holds(
      fc.property(part, part, (y, x) => {
        expect(off(y, x)).toBeLessThanOrEqual(3);
      }),
    );
    expect(off(-1e-130, -1)).toBeLessThanOrEqual(3);
  });

  test("lies within 3 units in the last place where one of the radians weighs most in the degrees, too", () => {
    // Found by search: right below 16° and 32° a unit of the radians is nearly two of the degrees.
    expect(off(2.4721673136152527, 9.563188213819267)).toBeLessThanOrEqual(3);
    expect(off(0.7057240881337754, 1.1967707603228972)).toBeLessThanOrEqual(3);
    expect(off(2.2526169398303013, -1.110977010990495)).toBeLessThanOrEqual(3);
  });
});

describe("the same direction within half a turn", () => {
  test("is the exact remainder on (−180, 180], and stays as it is when taken again", () => {
    holds(
      fc.property(angles, (angle) => {
        const signed = signedAngle(angle);
        expect(signed > -180 && signed <= 180).toBe(true);
        expect(turned(angle).minus(turned(signed)).mod(360).isZero()).toBe(true);
        expect(signedAngle(signed)).toBe(signed);
      }),
      400,
    );
  });

  test("counts half a turn as +180 and never is −0", () => {
    for (const angle of [180, -180, 540, -540, 900]) expect(signedAngle(angle)).toBe(180);
    for (const angle of [0, -0, 360, -360, 3600, -720]) expect(signedAngle(angle)).toBe(0);
  });
});
