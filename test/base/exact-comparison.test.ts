import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  ceiling,
  countSteps,
  type Decimal,
  decimal,
  isBelow,
  isTyped,
  larger,
  smaller,
  toPair,
} from "../../src/base/exact.js";
import { holds } from "../support/holds.js";
import { exactly } from "./reference.js";

const read = (x: number | string): Decimal => decimal(x, "x");
const counts = fc.integer({ min: 1, max: 5000 });
const denominators = fc.constantFrom(3, 7, 50, 60, 167);
/** What people type: up to 15 digits. */
const typed = fc
  .tuple(fc.integer({ min: -(10 ** 15), max: 10 ** 15 }), fc.integer({ min: -12, max: 3 }))
  .map(([digits, power]) => `${digits}e${power}`);

describe("comparison of exact decimals", () => {
  test("sees every difference between what people type", () => {
    holds(
      fc.property(typed, typed, (a, b) => {
        // Whole numbers of 1e-12 each, so that the comparison is one of integers.
        const [x, y] = [a, b].map((text) => BigInt(read(text).times("1e12").toFixed())) as [bigint, bigint];
        expect([isBelow(read(a), read(b)), isBelow(read(b), read(a))]).toEqual([x < y, y < x]);
        expect(smaller(read(a), read(b)).eq(read(x < y ? a : b))).toBe(true);
        expect(larger(read(a), read(b)).eq(read(x < y ? b : a))).toBe(true);
      }),
    );
  });

  test("takes a sum of fractions for the fraction that it is", () => {
    holds(
      fc.property(counts, denominators, (count, denominator) => {
        const [sum, whole] = [read(1).div(denominator).times(count), read(count).div(denominator)];
        expect([isBelow(sum, whole), isBelow(whole, sum)]).toEqual([false, false]);
        expect([isBelow(sum.neg(), whole.neg()), isBelow(whole.neg(), sum.neg())]).toEqual([false, false]);
      }),
    );
  });
});

describe("how often a step goes into a span", () => {
  test("is counted evenly where the span is a number of steps, however the step divides", () => {
    holds(
      fc.property(counts, fc.integer({ min: 1, max: 1000 }), denominators, (count, numerator, denominator) => {
        const step = read(numerator).div(denominator);
        const { whole, even } = countSteps(read(count * numerator).div(denominator), step);
        expect([whole.toNumber(), even]).toEqual([count, true]);
      }),
    );
  });

  test("is counted down where something is left over, however little", () => {
    holds(
      fc.property(counts, fc.integer({ min: 1, max: 60 }), (count, places) => {
        for (const rest of [`1e-${places}`, `0.${"9".repeat(places)}`]) {
          const { whole, even } = countSteps(read(0.1).times(read(count).plus(rest)), read(0.1));
          expect([whole.toNumber(), even]).toEqual([count, false]);
        }
      }),
    );
    expect(countSteps(read(0), read("0.1"))).toMatchObject({ even: true });
    expect(countSteps(read("0.05"), read("0.1")).whole.toNumber()).toBe(0);
  });
});

describe("the least whole number at or above", () => {
  test("is the number itself where that is whole but for the rounding of quotients", () => {
    holds(
      fc.property(counts, denominators, (count, denominator) => {
        expect(
          ceiling(
            read(1)
              .div(denominator)
              .times(count * denominator),
          ).toNumber(),
        ).toBe(count);
      }),
    );
    expect(ceiling(read(0)).toNumber()).toBe(0);
  });

  test("is the next one where something is left over, however little", () => {
    holds(
      fc.property(counts, fc.integer({ min: 1, max: 60 }), (count, places) => {
        for (const rest of [`1e-${places}`, `0.${"9".repeat(places)}`]) {
          expect(ceiling(read(count).plus(rest)).toNumber()).toBe(count + 1);
        }
      }),
    );
  });
});

test("what people type has 15 digits at the most", () => {
  for (const x of [0, 4, 0.1, 1e-300, 123456789012345, 110 / 4]) expect(isTyped(x)).toBe(true);
  for (const x of [1 / 3, Math.sqrt(3), 0.1 + 0.2]) expect(isTyped(x)).toBe(false);
});

describe("as two doubles", () => {
  test("a decimal keeps 30 digits, and the second is what the first leaves", () => {
    const digits = fc.bigInt({ min: 1n, max: 10n ** 79n });
    holds(
      fc.property(digits, fc.integer({ min: -250, max: 200 }), fc.boolean(), (written, power, negative) => {
        const x = read(`${negative ? "-" : ""}${written}e${power}`);
        const [high, low] = toPair(x);
        const error = exactly(high).plus(exactly(low)).minus(x.toFixed()).div(x.toFixed()).abs();
        expect(error.lt(1e-30)).toBe(true);
        expect(high + low).toBe(high);
      }),
      500,
    );
  });

  test("whole numbers of doubles are themselves, and 0 has no sign", () => {
    holds(
      fc.property(fc.maxSafeInteger(), (n) => {
        expect(toPair(read(n))).toEqual([n + 0, 0]);
      }),
    );
    expect(toPair(read(0).neg())).toEqual([0, 0]);
  });
});
