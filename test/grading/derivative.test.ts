/** Derivatives of measurement functions, seen as the sensitivities of a propagation. */
import fc from "fast-check";
import { propagate } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const slopeOf = (f: (x: number) => number, value: number, standard: number): number =>
  propagate(({ x }) => f(x), { x: { value, standard } }).sensitivities["x"] ?? Number.NaN;

type Case = readonly [name: string, f: (x: number) => number, slope: (x: number) => number];
const SMOOTH: readonly Case[] = [
  ["a sine", Math.sin, Math.cos],
  ["an exponential", Math.exp, Math.exp],
  ["a logarithm", Math.log, (x) => 1 / x],
  ["a reciprocal", (x) => 1 / x, (x) => -1 / (x * x)],
  ["a root", Math.sqrt, (x) => 0.5 / Math.sqrt(x)],
  ["a fifth power", (x) => x ** 5, (x) => 5 * x ** 4],
];

describe("the derivative", () => {
  test.each(SMOOTH)(
    "of %s is that of calculus, to 1e-11 of its value over the reach of 16 uncertainties",
    (_, f, slope) => {
      const places = fc.integer({ min: 100, max: 900 }).map((n) => n / 100);
      const shares = fc.integer({ min: 1, max: 40 }).map((n) => n / 1000);
      holds(
        fc.property(places, shares, (x, share) => {
          const reach = 16 * share * x;
          const size = Math.max(...[-reach, 0, reach].map((step) => Math.abs(f(x + step))));
          expect(Math.abs(slopeOf(f, x, share * x) - slope(x))).toBeLessThan((1e-11 * size) / reach);
        }),
        60,
      );
    },
  );

  test("of what swings is that of calculus however many half-periods lie within the reach", () => {
    // 22.5° · 16 is a whole turn, and so are halves of it down to a step of 180°.
    const degrees = (x: number) => (x * Math.PI) / 180;
    for (const standard of [11.25, 22.5, 45, 90])
      for (const order of [1, 2, 3]) {
        const slope = -degrees(order) * Math.sin(degrees(30 * order));
        expect(slopeOf((x) => Math.cos(degrees(order * x)), 30, standard) / slope).toBeCloseTo(1, 9);
      }
    const anywhere = fc.integer({ min: 1, max: 9_000 }).map((n) => n / 100);
    holds(
      fc.property(fc.integer({ min: 0, max: 359 }), anywhere, (x, standard) => {
        const off = slopeOf((y) => Math.sin(degrees(y)), x, standard) - degrees(1) * Math.cos(degrees(x));
        expect(Math.abs(off)).toBeLessThan(1e-11 / standard);
      }),
    );
  });

  test("begins with smaller steps where the function is not defined so far away", () => {
    // 16 · 0.1 and half of it lead below 0, or to it.
    expect(slopeOf(Math.log, 0.8, 0.1)).toBeCloseTo(1.25, 9);
    expect(slopeOf(Math.sqrt, 1, 0.1)).toBeCloseTo(0.5, 9);
    expect(slopeOf((x) => 1 / x, 1.6, 0.1)).toBeCloseTo(-1 / 2.56, 9);
    expect(slopeOf((x) => Math.acos(x), 0.5, 0.1)).toBeCloseTo(-1 / Math.sqrt(0.75), 9);
  });

  test("of what is defined nowhere beside the value is refused", () => {
    const alone = () => propagate(({ x }) => (x === 1 ? 0 : Number.NaN), { x: { value: 1, standard: 0.1 } });
    expect(problemsOf(alone)).toMatchObject([{ code: "not-finite", path: "f" }]);
  });

  test("of a bend is the mean of both sides", () => {
    expect(slopeOf(Math.abs, 0, 0.1)).toBe(0);
    expect(slopeOf((x) => (x < 0 ? x : 3 * x), 0, 0.1)).toBeCloseTo(2, 12);
  });
});
