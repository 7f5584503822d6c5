import fc from "fast-check";
import {
  boundaryAlong,
  distanceTo,
  type Mho,
  mho,
  mhoShare,
  type Quadrilateral,
  quadrilateral,
  quadrilateralShare,
} from "tripwright/characteristic";
import { angle, magnitude, polar } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { quadrilaterals } from "./quadrilaterals.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const mhos: fc.Arbitrary<Mho> = fc.record({
  reach: number(0.01, 100),
  angle: number(-180, 180),
  reverse: fc.oneof(fc.constant(0), number(0.01, 50)),
});
const impedances = fc.tuple(number(1e-3, 200), number(-180, 180)).map(([size, turn]) => polar(size, turn));
const point = ({ re, im }: { re: number; im: number }) => ({ x: re, y: im });

describe.each([
  ["mho", mhos, mhoShare, mho],
  ["quadrilateral", quadrilaterals, quadrilateralShare, quadrilateral],
] as const)("the share of a %s zone", (_name, zones, shareOf, regionOf) => {
  const share = (zone: Mho | Quadrilateral, z: { re: number; im: number }) => shareOf(zone as never, z);
  const region = (zone: Mho | Quadrilateral) => regionOf(zone as never);

  test("is below 1 just where the distance to the boundary is positive, and above 1 where it is negative", () => {
    holds(
      fc.property(zones as fc.Arbitrary<Mho | Quadrilateral>, impedances, (zone, z) => {
        const depth = distanceTo(region(zone), point(z));
        // On the boundary itself either may come out.
        if (Math.abs(depth) > 1e-9) expect(Math.sign(1 - share(zone, z))).toBe(Math.sign(depth));
      }),
      1000,
    );
  });

  test("is the distance from the origin over that of the boundary along the same ray", () => {
    holds(
      fc.property(zones as fc.Arbitrary<Mho | Quadrilateral>, impedances, (zone, z) => {
        const far = boundaryAlong(region(zone), { angle: angle(z) }).at(-1) ?? 0;
        const found = share(zone, z);
        if (far < 1e-3) return;
        expect(Math.abs(found - magnitude(z) / far)).toBeLessThanOrEqual(1e-9 * found);
      }),
      1000,
    );
  });

  test("grows with the impedance, and shrinks as the zone grows", () => {
    holds(
      fc.property(zones as fc.Arbitrary<Mho | Quadrilateral>, impedances, number(0.01, 100), (zone, z, times) => {
        const found = share(zone, z);
        fc.pre(Number.isFinite(found));
        const grown = share(zone, { re: z.re * times, im: z.im * times });
        expect(Math.abs(grown - times * found)).toBeLessThanOrEqual(1e-12 * grown);
      }),
    );
  });

  test("is 0 at the origin", () => {
    holds(
      fc.property(zones as fc.Arbitrary<Mho | Quadrilateral>, (zone) => share(zone, { re: 0, im: 0 }) === 0),
      20,
    );
  });
});

describe("the share, computed by hand", () => {
  test("of a mho of 8 and −2 at 90°: forward, behind, and 4 to the side", () => {
    const zone = { reach: 8, angle: 90, reverse: 2 };
    // Along 0° the circle of radius 5 around j3 lies at √(25 − 9).
    expect([mhoShare(zone, polar(4, 90)), mhoShare(zone, polar(1, -90)), mhoShare(zone, polar(4, 0))]).toEqual([
      0.5, 0.5, 1,
    ]);
  });

  test("of a mho through the origin there is none behind, nor at right angles", () => {
    const zone = { reach: 8, angle: 0 };
    expect([mhoShare(zone, polar(1, 180)), mhoShare(zone, polar(1, 90)), mhoShare(zone, polar(1, -90))]).toEqual(
      Array(3).fill(Number.POSITIVE_INFINITY),
    );
  });

  const zone = { reactance: 8, resistance: 4, lineAngle: 90, forward: { from: -45, to: 135 } };
  test("of a rectangle between two diagonals: its corners, and what lies between", () => {
    // Corners: 4 − j4, 4 + j8, −8 + j8.
    for (const corner of [
      { re: 4, im: -4 },
      { re: 4, im: 8 },
      { re: -8, im: 8 },
    ])
      expect(quadrilateralShare(zone, corner)).toBe(1);
    expect(quadrilateralShare(zone, { re: 1, im: 6 })).toBe(0.75);
    expect(quadrilateralShare(zone, { re: 3, im: 1 })).toBe(0.75);
    expect(quadrilateralShare(zone, { re: -1, im: -2 })).toBe(Number.POSITIVE_INFINITY);
  });

  test("of a zone that opens wider than half a turn", () => {
    const wide = { ...zone, forward: { from: -80, to: 170 } };
    expect(quadrilateralShare(wide, { re: 1, im: -2 })).toBe(0.25);
    expect(quadrilateralShare(wide, { re: -8, im: 2 })).toBe(0.25);
    expect(quadrilateralShare(wide, { re: -1, im: -1 })).toBe(Number.POSITIVE_INFINITY);
  });

  test("of the two lines between which a zone looks, which belong to it, however their points are rounded", () => {
    // Whole ones, and thirds between them, whose sum with 180° is rounded.
    const degrees = (from: number, to: number) => Array.from({ length: 3 * (to - from) + 1 }, (_, i) => from + i / 3);
    const looking = (from: number, to: number) => ({
      reactance: 8,
      resistance: 4,
      lineAngle: 75,
      forward: { from, to },
    });
    const beside = (angle: number, turned: number) => {
      const { re, im } = polar(2, angle + turned);
      return turned === 0 ? { re, im } : { re: -re, im: -im };
    };
    for (const turned of [0, 180]) {
      for (const from of degrees(-60, 20)) {
        expect(quadrilateralShare(looking(from, 115), beside(from, turned))).toBeLessThan(1);
        expect(quadrilateralShare(looking(from, 115), beside(from - 1e-12, turned))).toBe(Number.POSITIVE_INFINITY);
      }
      for (const to of degrees(91, 170)) {
        expect(quadrilateralShare(looking(-15, to), beside(to, turned))).toBeLessThan(2);
        expect(quadrilateralShare(looking(-15, to), beside(to + 1e-12, turned))).toBe(Number.POSITIVE_INFINITY);
      }
    }
  });

  test("of impedances at the ends of what a double holds is finite", () => {
    expect(mhoShare({ reach: 1, angle: 90 }, { re: 0, im: 1e300 })).toBe(1e300);
    expect(mhoShare({ reach: 1, angle: 90 }, { re: 0, im: 1e-300 })).toBe(1e-300);
    expect(quadrilateralShare(zone, { re: 4e300, im: 0 })).toBe(1e300);
  });
});

test("what is no zone and no impedance is refused by name", () => {
  const z = { re: 1, im: 1 };
  expect(problemsOf(() => mhoShare({ reach: 0, angle: 75 }, z))).toMatchObject([{ path: "reach" }]);
  expect(problemsOf(() => mhoShare({ reach: 1, angle: 75 }, { re: Number.NaN, im: 0 }))).toMatchObject([
    { path: "impedance.re" },
  ]);
  const zone = { reactance: 1, resistance: -1, lineAngle: 75, forward: { from: -15, to: 115 } };
  expect(problemsOf(() => quadrilateralShare(zone, z))).toMatchObject([{ path: "resistance" }]);
});
