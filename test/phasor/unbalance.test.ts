import { Decimal } from "decimal.js";
import fc from "fast-check";
import {
  fromComponents,
  lineToLine,
  magnitude,
  type PhasePairs,
  scale,
  threePhase,
  toComponents,
  type UnbalanceDefinition,
  unbalance,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { spread } from "../base/spread.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { phasors, sizeOf } from "./phasors.js";

const EPSILON = Number.EPSILON;
const OF_SIDES = ["iec-61000-4-30-negative", "nema-mg-1"] as const;

/** The formulas cancel all but a few of their digits near balance: many more than a double has are needed. */
const D = Decimal.clone({ defaults: true, precision: 120 });
const exact = (x: number): Decimal => new D(x.toPrecision(100));

/** As IEC 61000-4-30 writes it. */
function iec(sides: readonly number[]): Decimal {
  const squares = sides.map((side) => exact(side).pow(2));
  const sum = squares.reduce((s, x) => s.plus(x));
  const beta = squares.reduce((s, x) => s.plus(x.pow(2)), new D(0)).div(sum.pow(2));
  const root = D.max(0, beta.times(-6).plus(3)).sqrt();
  return D.max(0, new D(1).minus(root)).div(root.plus(1)).sqrt();
}

/** As NEMA MG 1 writes it. */
function nema(sides: readonly number[]): Decimal {
  const [a, b, c] = sides.map(exact) as [Decimal, Decimal, Decimal];
  const mean = a.plus(b).plus(c).div(3);
  return D.max(...[a, b, c].map((side) => side.minus(mean).abs())).div(mean);
}

/** Three sides with x = a − b and y = b − c, from balance (shares of 1e-16) to a flat triangle. */
const triangles: fc.Arbitrary<readonly [number, number, number]> = fc
  .tuple(
    fc.oneof(
      spread(-16, -0.4).map((power) => 10 ** power),
      spread(0, 1),
    ),
    spread(0, 1),
    fc.constantFrom(1, 110, 1.7e4, 1e300, 1e-300),
  )
  .map(([x, share, size]) => {
    const b = 1 - x;
    return [1, b, b - share * Math.max(0, 2 * b - 1)].map((side) => side * size) as [number, number, number];
  })
  .filter(([a, b, c]) => exact(b).plus(exact(c)).gte(exact(a)));

const pairs = ([ab, bc, ca]: readonly [number, number, number]): PhasePairs<number> => ({ ab, bc, ca });

describe("the unbalance of line-to-line magnitudes", () => {
  test("is within 2e-15 of both formulas in 120 digits, from balance to a flat triangle", () => {
    holds(
      fc.property(triangles, (sides) => {
        for (const [definition, reference] of [
          [OF_SIDES[0], iec(sides)],
          [OF_SIDES[1], nema(sides)],
        ] as const) {
          const off = exact(unbalance(pairs(sides), definition))
            .minus(reference)
            .abs();
          expect(off.lte(reference.times(2e-15))).toBe(true);
        }
      }),
      300,
    );
  });

  test("is the ratio of the sequences that the phasors have", () => {
    holds(
      fc.property(phasors, phasors, phasors, (a, b, c) => {
        const components = toComponents({ a, b, c });
        fc.pre(sizeOf(components.positive) > sizeOf(components.negative));
        const { ab, bc, ca } = lineToLine({ a, b, c });
        const sides = pairs([magnitude(ab), magnitude(bc), magnitude(ca)]);
        const ratio = unbalance(components, "iec-61000-4-30-negative");
        // Components are within 5e-16 of the largest phase; sides round, which a flat triangle takes up by its square root.
        const lost = (2e-15 * Math.max(...[a, b, c].map(sizeOf))) / sizeOf(components.positive);
        fc.pre(lost < 1e-9);
        const flatness = Math.max(0, (1 - ratio ** 2) / (1 + ratio ** 2));
        expect(Math.abs(unbalance(sides, "iec-61000-4-30-negative") - ratio)).toBeLessThanOrEqual(
          2 * lost + Math.min((8 * EPSILON) / flatness, 4 * Math.sqrt(EPSILON)),
        );
      }),
      300,
    );
  });

  test("does not mind which is which, and not the unit", () => {
    holds(
      fc.property(triangles, spread(0.1, 10), ([ab, bc, ca], factor) => {
        for (const definition of OF_SIDES) {
          const one = unbalance({ ab, bc, ca }, definition);
          for (const [p, q, r] of [
            [bc, ca, ab],
            [ca, ab, bc],
            [ab, ca, bc],
            [ca, bc, ab],
            [bc, ab, ca],
          ] as const)
            expect(unbalance({ ab: p, bc: q, ca: r }, definition)).toBe(one);
          expect(unbalance({ ab: ab / 16, bc: bc / 16, ca: ca / 16 }, definition)).toBe(one);
        }
        const [a, b, c] = [110, 109, 107.5].map((side) => side * factor) as [number, number, number];
        for (const definition of OF_SIDES) {
          const apart =
            unbalance({ ab: a, bc: b, ca: c }, definition) - unbalance({ ab: 110, bc: 109, ca: 107.5 }, definition);
          // Each side may round by half a unit, of which the difference is a hundredth.
          expect(Math.abs(apart)).toBeLessThanOrEqual(4 * EPSILON);
        }
      }),
    );
  });

  test("is 0 in balance and, where it is small, after IEC 1 to 2/√3 times what it is after NEMA", () => {
    holds(
      fc.property(spread(1, 1e6), spread(0, 1e-6), spread(0, 1e-6), (size, p, q) => {
        expect(OF_SIDES.map((definition) => unbalance(pairs([size, size, size]), definition))).toEqual([0, 0]);
        fc.pre(p > 1e-8 && q > 1e-8);
        const sides = pairs([size, size * (1 - p), size * (1 - p - q)]);
        const [after, before] = OF_SIDES.map((definition) => unbalance(sides, definition)) as [number, number];
        expect(after / before).toBeGreaterThan(1 - 4e-6);
        expect(after / before).toBeLessThan(2 / Math.sqrt(3) + 4e-6);
      }),
    );
  });

  test("by hand", () => {
    const at = (ab: number, bc: number, ca: number) =>
      OF_SIDES.map((definition) => unbalance({ ab, bc, ca }, definition));
    // One phase to neutral from a source of two lines: as much negative as positive sequence.
    expect(at(400, 400, 0)).toEqual([1, 1]);
    expect(at(2, 1, 1)).toEqual([1, 0.5]);
    // Deviations 3, 0, −3 from 100.
    expect(at(103, 100, 97)[1]).toBe(0.03);
    // Typed decimals of a flat triangle, of which the doubles miss it.
    expect(at(1.1, 0.8, 0.3)[0]).toBeCloseTo(1, 14);
    expect(at(Number.MAX_VALUE, Number.MAX_VALUE, Number.MAX_VALUE)).toEqual([0, 0]);
    expect(at(5e-324, 5e-324, 5e-324)).toEqual([0, 0]);
  });
});

describe("the unbalance of components", () => {
  test("is the ratio that they were made with", () => {
    holds(
      fc.property(spread(0, 5), spread(0, 5), fc.constantFrom(1, 63.5, 1e150, 1e-150), (zero, negative, size) => {
        const positive = { re: 0.6 * size, im: 0.8 * size };
        const components = { zero: scale(positive, zero), positive, negative: scale(positive, -negative) };
        for (const given of [components, toComponents(fromComponents(components))]) {
          const slack = given === components ? 2e-15 : 2e-14;
          expect(Math.abs(unbalance(given, "iec-61000-4-30-zero") - zero)).toBeLessThanOrEqual(
            slack * Math.max(1, zero),
          );
          expect(Math.abs(unbalance(given, "iec-61000-4-30-negative") - negative)).toBeLessThanOrEqual(
            slack * Math.max(1, negative),
          );
        }
      }),
    );
  });

  test("is refused where the positive sequence is 0 or lost in rounding, as in the wrong rotation", () => {
    const none = { re: 0, im: 0 };
    const one = { re: 1, im: 0 };
    const definitions = ["iec-61000-4-30-negative", "iec-61000-4-30-zero"] as const;
    const refused = (given: object) => {
      for (const definition of definitions)
        expect(problemsOf(() => unbalance(given as never, definition))).toMatchObject([
          { path: "positive", code: "out-of-range", expected: "a positive sequence" },
        ]);
    };
    refused({ zero: none, positive: none, negative: none });
    refused({ zero: none, positive: none, negative: one });
    refused({ zero: one, positive: { re: 1e-300, im: 0 }, negative: one });
    holds(
      fc.property(spread(-3, 6), spread(-180, 180), (power, degrees) => {
        refused(toComponents(threePhase(10 ** power, degrees, "ACB")));
        const right = toComponents(threePhase(10 ** power, degrees, "ACB"), "ACB");
        for (const definition of definitions) expect(unbalance(right, definition)).toBeLessThanOrEqual(1.1e-15);
      }),
    );
    // A hundredth of a millionth is no rounding.
    expect(unbalance({ zero: none, positive: { re: 1e-8, im: 0 }, negative: one }, definitions[0])).toBe(1e8);
  });
});

describe("what has no unbalance", () => {
  const problem = (given: unknown, definition: unknown) =>
    problemsOf(() => unbalance(given as never, definition as UnbalanceDefinition)).map(
      ({ path, code }) => `${path} ${code}`,
    );

  test("magnitudes that form no triangle", () => {
    for (const definition of OF_SIDES)
      for (const sides of [
        [0, 0, 0],
        [10, 4, 5],
        [1, 0, 0],
        [110, 110, 220.1],
        [1e300, 1, 1],
      ] as const)
        expect(problem(pairs(sides), definition)).toEqual([" out-of-range"]);
  });

  test("magnitudes that are none", () => {
    for (const definition of OF_SIDES)
      for (const [value, code] of [
        [-1, "out-of-range"],
        [Number.NaN, "not-finite"],
        [Number.POSITIVE_INFINITY, "not-finite"],
        ["460", "wrong-type"],
        [null, "wrong-type"],
        [{ re: 460, im: 0 }, "wrong-type"],
        [undefined, "missing"],
      ])
        expect(problem({ ab: 460, bc: value, ca: 450 }, definition)).toEqual([`bc ${code}`]);
    expect(problem({ ab: 460, bc: 467 }, "nema-mg-1")).toEqual(["ca missing"]);
  });

  test("what the definition is not of; TypeScript knows it too", () => {
    const sides = { ab: 460, bc: 467, ca: 450 };
    const components = toComponents(threePhase(63.5));
    // @ts-expect-error Magnitudes do not tell the zero sequence.
    expect(problemsOf(() => unbalance(sides, "iec-61000-4-30-zero"))).toMatchObject([
      { path: "zero", code: "missing" },
    ]);
    // @ts-expect-error NEMA's definition is of magnitudes.
    expect(problemsOf(() => unbalance(components, "nema-mg-1"))).toMatchObject([{ path: "ab", code: "missing" }]);
    // @ts-expect-error Phasors are no magnitudes.
    expect(problemsOf(() => unbalance(lineToLine(threePhase(63.5)), "nema-mg-1"))).toMatchObject([{ path: "ab" }]);
    // @ts-expect-error Phases are no components.
    expect(problemsOf(() => unbalance(threePhase(63.5), "iec-61000-4-30-negative"))).toMatchObject([{ path: "zero" }]);
  });

  test("nothing at all, or a definition that nobody gave", () => {
    for (const definition of [...OF_SIDES, "iec-61000-4-30-zero"]) {
      for (const none of [null, 5, "ab", [1, 1, 1]]) expect(problem(none, definition)).toEqual([" wrong-type"]);
      expect(problem(undefined, definition)).toEqual([" missing"]);
    }
    for (const name of ["nema", "IEC-61000-4-30-negative", "constructor", "", null, undefined])
      expect(problem({ ab: 1, bc: 1, ca: 1 }, name)).toEqual(["definition unknown-name"]);
  });
});
