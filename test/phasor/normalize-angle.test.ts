import fc from "fast-check";
import { type AngleRange, normalizeAngle } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { turned, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const RANGES = ["signed", "positive", "lagging"] as const;
const anyAngle = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  spread(-1000, 1000),
  fc.integer({ min: -40, max: 40 }).map((n) => 45 * n),
);

const isIn = (range: AngleRange, angle: number): boolean =>
  range === "signed" ? angle > -180 && angle <= 180 : angle >= 0 && angle < 360;

describe("the same direction within one turn", () => {
  test("at the edges: half a turn is +180, a whole one is 0, a hair below 0 has no neighbour below 360", () => {
    const rows: readonly (readonly [number, number, number, number])[] = [
      // angle, signed, positive, lagging
      [0, 0, 0, 0],
      [-0, 0, 0, 0],
      [180, 180, 180, 180],
      [-180, 180, 180, 180],
      [540, 180, 180, 180],
      [-540, 180, 180, 180],
      [360, 0, 0, 0],
      [-360, 0, 0, 0],
      [270, -90, 270, 90],
      [-30, -30, 330, 30],
      [-1e-20, -1e-20, 0, 1e-20],
      [1e-20, 1e-20, 1e-20, 0],
      [5e-324, 5e-324, 5e-324, 0],
      [1e22, -80, 280, 80], // 10^22 is 1 mod 9 and 0 mod 40, and so is 280
    ];
    for (const [angle, ...expected] of rows)
      expect(RANGES.map((range) => normalizeAngle(angle, range))).toEqual(expected);
  });

  test("lies in its range, stays as it is when taken again, and never is −0", () => {
    holds(
      fc.property(anyAngle, fc.constantFrom(...RANGES), (angle, range) => {
        const once = normalizeAngle(angle, range);
        expect(isIn(range, once)).toBe(true);
        expect(Object.is(once, -0)).toBe(false);
        // Counted clockwise, the same angle read again is the angle itself only where it is told so.
        expect(normalizeAngle(range === "lagging" ? -once : once, range)).toBe(once);
      }),
      500,
    );
  });

  test("is the nearest double to the exact remainder, at 1e300 too", () => {
    holds(
      fc.property(anyAngle, fc.constantFrom(...RANGES), (angle, range) => {
        const rest = turned(range === "lagging" ? -angle : angle);
        const exact = range === "signed" ? signed(rest) : rest.isNegative() ? rest.plus(360) : rest;
        const actual = normalizeAngle(angle, range);
        // The nearest double to what lies a hair below 360 would be 360 itself, which is the direction of 0.
        if (exact.toNumber() === 360) expect(actual).toBe(0);
        else expect(ulpsOff(actual, exact)).toBeLessThanOrEqual(range === "signed" ? 0 : 0.5);
      }),
      500,
    );
  });

  const signed = (rest: ReturnType<typeof turned>) =>
    rest.gt(180) ? rest.minus(360) : rest.lte(-180) ? rest.plus(360) : rest;

  test("repeats every 360°, to the bit where the sum is exact", () => {
    const sixteenths = fc.integer({ min: -1_000_000, max: 1_000_000 }).map((n) => n / 16);
    holds(
      fc.property(
        sixteenths,
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.constantFrom(...RANGES),
        (angle, turns, range) => {
          expect(normalizeAngle(angle + 360 * turns, range)).toBe(normalizeAngle(angle, range));
        },
      ),
    );
  });

  test("is signed where no range is named", () => {
    holds(
      fc.property(anyAngle, (angle) => {
        expect(normalizeAngle(angle)).toBe(normalizeAngle(angle, "signed"));
      }),
    );
  });

  test("is refused for an angle that is not finite and for a range that is none", () => {
    expect(problemsOf(() => normalizeAngle(Number.NaN))).toMatchObject([{ path: "angle", code: "not-finite" }]);
    expect(problemsOf(() => normalizeAngle("90" as never))).toMatchObject([{ path: "angle", code: "wrong-type" }]);
    for (const range of ["Signed", "constructor", "__proto__", "", null])
      expect(problemsOf(() => normalizeAngle(90, range as AngleRange))).toMatchObject([
        { path: "range", code: "unknown-name", expected: "one of signed, positive, lagging" },
      ]);
  });
});
