import fc from "fast-check";
import {
  add,
  conjugate,
  fromComponents,
  multiply,
  type Phases,
  polar,
  type Rotation,
  rotate,
  type SequenceComponents,
  scale,
  threePhase,
  toComponents,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { complex, exactly, gap } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";
import { ALPHA, ALPHA_SQUARED, largest, over, plus, real, times } from "./decimals.js";
import { angles, distance, extremePhasors, phasors, sizeOf } from "./phasors.js";

const phases = (of = phasors): fc.Arbitrary<Phases> => fc.record({ a: of, b: of, c: of });
const sequences = (of = phasors): fc.Arbitrary<SequenceComponents> =>
  fc.record({ zero: of, positive: of, negative: of });
const rotations = fc.constantFrom<Rotation>("ABC", "ACB");
const greatest = (set: Phases | SequenceComponents) => Math.max(...Object.values(set).map(sizeOf));

/** A third of what a double holds, since a sum of three may be no larger. */
const anySize = fc.oneof(phasors, extremePhasors).map((p) => scale(p, 0.2));
const SMALLEST = exactly(4 * 5e-324);

describe("symmetrical components", () => {
  test("are within 5e-16 of the largest phase of 50-digit values, at every size", () => {
    holds(
      fc.property(phases(anySize), rotations, (set, rotation) => {
        const [a, y, z] = [complex(set.a), complex(set.b), complex(set.c)];
        const [b, c] = rotation === "ABC" ? [y, z] : [z, y];
        const slack = largest(a, b, c).times(5e-16).plus(SMALLEST);
        const { zero, positive, negative } = toComponents(set, rotation);
        for (const [actual, sum] of [
          [zero, plus(a, b, c)],
          [positive, plus(a, times(ALPHA, b), times(ALPHA_SQUARED, c))],
          [negative, plus(a, times(ALPHA_SQUARED, b), times(ALPHA, c))],
        ] as const)
          expect(gap(actual, over(sum, real(3))).lte(slack)).toBe(true);
      }),
      100,
    );
  });

  test("give phases within 1e-15 of the largest component of 50-digit values, at every size", () => {
    holds(
      fc.property(sequences(anySize), rotations, (set, rotation) => {
        const [zero, positive, negative] = [complex(set.zero), complex(set.positive), complex(set.negative)];
        const slack = largest(zero, positive, negative).times(1e-15).plus(SMALLEST);
        const { a, b, c } = fromComponents(set, rotation);
        const behind = plus(zero, times(ALPHA_SQUARED, positive), times(ALPHA, negative));
        const ahead = plus(zero, times(ALPHA, positive), times(ALPHA_SQUARED, negative));
        expect(gap(a, plus(zero, positive, negative)).lte(slack)).toBe(true);
        expect(gap(b, rotation === "ABC" ? behind : ahead).lte(slack)).toBe(true);
        expect(gap(c, rotation === "ABC" ? ahead : behind).lte(slack)).toBe(true);
      }),
      100,
    );
  });

  test("undo and are undone by their inverse, in either rotation", () => {
    holds(
      fc.property(phases(), sequences(), rotations, (set, components, rotation) => {
        const there = fromComponents(toComponents(set, rotation), rotation);
        const back = toComponents(fromComponents(components, rotation), rotation);
        for (const name of ["a", "b", "c"] as const)
          expect(distance(there[name], set[name])).toBeLessThanOrEqual(2.5e-15 * greatest(set));
        for (const name of ["zero", "positive", "negative"] as const)
          expect(distance(back[name], components[name])).toBeLessThanOrEqual(2.5e-15 * greatest(components));
      }),
    );
  });

  test("of a balanced set are its phase a, and the rounding of its phasors", () => {
    holds(
      fc.property(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), angles, rotations, (size, degrees, rotation) => {
        const set = threePhase(size, degrees, rotation);
        const { zero, positive, negative } = toComponents(set, rotation);
        // 8e-16 of b and c each, a third of them, and 5e-16 of the components.
        const slack = 1.1e-15 * size;
        expect(distance(positive, set.a)).toBeLessThanOrEqual(slack);
        expect(sizeOf(zero)).toBeLessThanOrEqual(slack);
        expect(sizeOf(negative)).toBeLessThanOrEqual(slack);
        // At 0° the halves of b and c are exact, and their other parts are equal and opposite.
        expect(toComponents(threePhase(size, 0, rotation), rotation).zero).toEqual({ re: 0, im: 0 });
      }),
    );
  });

  test("of one phase alone are a third of it each, turned for b and c", () => {
    const none = { re: 0, im: 0 };
    holds(
      fc.property(phasors, ({ re, im }) => {
        const third = { re: re / 3 + 0, im: im / 3 + 0 };
        const alone = toComponents({ a: { re, im }, b: none, c: none });
        expect(alone).toEqual({ zero: third, positive: third, negative: third });
        const ofB = toComponents({ a: none, b: { re, im }, c: none });
        expect(ofB.zero).toEqual(third);
        expect(distance(ofB.positive, rotate(third, 120))).toBeLessThanOrEqual(1e-15 * sizeOf(third));
        expect(distance(ofB.negative, rotate(third, -120))).toBeLessThanOrEqual(1e-15 * sizeOf(third));
      }),
    );
  });

  test("of three equal phasors have no positive nor negative sequence, to the bit", () => {
    holds(
      fc.property(phasors, (p) => {
        const { zero, positive, negative } = toComponents({ a: p, b: p, c: p });
        expect(distance(zero, p)).toBeLessThanOrEqual(3e-16 * sizeOf(p));
        expect([positive, negative]).toEqual(Array(2).fill({ re: 0, im: 0 }));
      }),
    );
  });

  test("change places in the other rotation, and where two phases do", () => {
    holds(
      fc.property(phases(), rotations, (set, rotation) => {
        const { zero, positive, negative } = toComponents(set, rotation);
        const other = { zero, positive: negative, negative: positive };
        expect(toComponents(set, rotation === "ABC" ? "ACB" : "ABC")).toEqual(other);
        expect(toComponents({ a: set.a, b: set.c, c: set.b }, rotation)).toEqual(other);
      }),
    );
  });

  test("change places in conjugates", () => {
    holds(
      fc.property(phases(), ({ a, b, c }) => {
        const { zero, positive, negative } = toComponents({ a, b, c });
        const mirrored = toComponents({ a: conjugate(a), b: conjugate(b), c: conjugate(c) });
        expect(mirrored).toEqual({
          zero: conjugate(zero),
          positive: conjugate(negative),
          negative: conjugate(positive),
        });
      }),
    );
  });

  test("turn with their phases, grow with them to the bit by powers of two, and add up with them", () => {
    holds(
      fc.property(phases(), phases(), angles, fc.integer({ min: -30, max: 30 }), (one, two, degrees, power) => {
        const map = (change: (p: Phases["a"], name: "a" | "b" | "c") => Phases["a"]): SequenceComponents =>
          toComponents({ a: change(one.a, "a"), b: change(one.b, "b"), c: change(one.c, "c") });
        const [plain, turned, grown] = [
          map((p) => p),
          map((p) => rotate(p, degrees)),
          map((p) => scale(p, 2 ** power)),
        ];
        const [second, both] = [toComponents(two), map((p, name) => add(p, two[name]))];
        const size = greatest(one) + greatest(two);
        for (const name of ["zero", "positive", "negative"] as const) {
          expect(grown[name]).toEqual(scale(plain[name], 2 ** power));
          expect(distance(turned[name], rotate(plain[name], degrees))).toBeLessThanOrEqual(2e-15 * size);
          expect(distance(both[name], add(plain[name], second[name]))).toBeLessThanOrEqual(2e-15 * size);
        }
      }),
    );
  });

  test("hold a third of the complex power each phase carries: S = 3·(V0·I0* + V1·I1* + V2·I2*)", () => {
    holds(
      fc.property(phases(), phases(), rotations, (v, i, rotation) => {
        const [vs, is] = [toComponents(v, rotation), toComponents(i, rotation)];
        const power = (u: Phases["a"], w: Phases["a"]) => multiply(u, conjugate(w));
        const ofPhases = add(add(power(v.a, i.a), power(v.b, i.b)), power(v.c, i.c));
        const ofSequences = [
          power(vs.zero, is.zero),
          power(vs.positive, is.positive),
          power(vs.negative, is.negative),
        ].reduce(add);
        expect(distance(scale(ofSequences, 3), ofPhases)).toBeLessThanOrEqual(2e-14 * greatest(v) * greatest(i));
      }),
    );
  });

  test("by hand", () => {
    const at = (size: number, degrees: number) => polar(size, degrees);
    // Out on phase b, back on c: no zero sequence, and I/√3 of the others, a quarter turn apart.
    const { zero, positive, negative } = toComponents({ a: at(0, 0), b: at(3, 0), c: at(3, 180) });
    expect(zero).toEqual({ re: 0, im: 0 });
    expect(distance(positive, at(Math.sqrt(3), 90))).toBeLessThanOrEqual(1e-15);
    expect(distance(negative, at(Math.sqrt(3), -90))).toBeLessThanOrEqual(1e-15);
    // 3I0 is the residual.
    expect(toComponents({ a: at(2, 0), b: at(4, 0), c: at(6, 0) }).zero).toEqual({ re: 4, im: 0 });
  });

  test("reach 1e300, and never are −0", () => {
    const { zero, positive } = toComponents(threePhase(1e300, 0));
    expect(zero).toEqual({ re: 0, im: 0 });
    expect(distance(positive, { re: 1e300, im: 0 })).toBeLessThanOrEqual(1.1e285);
    const parts = fc.constantFrom(0, -0, 1, -1, 5e-324, -5e-324);
    const small = fc.record({ re: parts, im: parts });
    holds(
      fc.property(phases(small), sequences(small), rotations, (set, components, rotation) => {
        const results = [toComponents(set, rotation), fromComponents(components, rotation)].flatMap(Object.values);
        for (const { re, im } of results) expect(Object.is(re, -0) || Object.is(im, -0)).toBe(false);
      }),
      500,
    );
  });

  test("of a share of unbalance are that share", () => {
    holds(
      fc.property(spread(-0.99, 0.99), spread(-0.99, 0.99), (share, other) => {
        const positive = { re: 63.5, im: 0 };
        const [zero, negative] = [scale(positive, share), scale(positive, other)];
        const back = toComponents(fromComponents({ zero, positive, negative }));
        expect(back.zero.re / back.positive.re).toBeCloseTo(share, 14);
        expect(back.negative.re / back.positive.re).toBeCloseTo(other, 14);
      }),
    );
  });
});
