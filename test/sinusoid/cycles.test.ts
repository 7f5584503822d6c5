import fc from "fast-check";
import { band, grade } from "tripwright/grading";
import { cyclesToSeconds, secondsToCycles } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { D, exactly, ulpsOff } from "../base/reference.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const amounts = fc
  .tuple(fc.constantFrom(1, -1), fc.double({ min: 1e-6, max: 1e6, noNaN: true }))
  .map(([sign, size]) => sign * size);
const frequencies = fc.double({ min: 0.1, max: 1000, noNaN: true });

describe("cycles and seconds", () => {
  test("are each other's inverse at any frequency", () => {
    holds(
      fc.property(amounts, frequencies, (amount, frequency) => {
        const seconds = cyclesToSeconds(amount, { frequency });
        const cycles = secondsToCycles(amount, { frequency });
        expect(ulps(secondsToCycles(seconds, { frequency }), amount)).toBeLessThanOrEqual(2);
        expect(ulps(cyclesToSeconds(cycles, { frequency }), amount)).toBeLessThanOrEqual(2);
      }),
    );
  });

  test("are the nearest doubles to the exact quotient and product of doubles that nobody typed", () => {
    const odd = fc.integer({ min: 2 ** 51, max: 2 ** 52 - 1 }).map((n) => (2 * n + 1) / 2 ** 44);
    holds(
      fc.property(odd, odd, (amount, frequency) => {
        const [quotient, product] = [
          exactly(amount).div(exactly(frequency)),
          exactly(amount).times(exactly(frequency)),
        ];
        expect(ulpsOff(cyclesToSeconds(amount, { frequency }), quotient)).toBeLessThanOrEqual(0.5);
        expect(ulpsOff(secondsToCycles(amount, { frequency }), product)).toBeLessThanOrEqual(0.5);
      }),
    );
  });

  test("are the nearest doubles to the quotient and the product of the decimals that somebody typed", () => {
    expect(cyclesToSeconds(2.2, { frequency: 50 })).toBe(0.044);
    expect(cyclesToSeconds(5, { frequency: 16.7 })).toBe(50 / 167);
    expect(secondsToCycles(0.02118, { frequency: 60 })).toBe(1.2708);
    const typed = fc.tuple(fc.integer({ min: 1, max: 999_999 }), fc.integer({ min: 0, max: 5 }));
    holds(
      fc.property(typed, typed, ([n, places], [m, more]) => {
        const [amount, frequency] = [n / 10 ** places, m / 10 ** more];
        const [exact, hertz] = [new D(n).div(10 ** places), new D(m).div(10 ** more)];
        expect(cyclesToSeconds(amount, { frequency })).toBe(exact.div(hertz).toNumber());
        expect(cyclesToSeconds(-amount, { frequency })).toBe(-exact.div(hertz).toNumber());
        expect(secondsToCycles(amount, { frequency })).toBe(exact.times(hertz).toNumber());
      }),
      500,
    );
  });

  test("of tenths of a cycle lie on their limits, at the frequency of railways too", () => {
    const tenths = fc.integer({ min: 1, max: 200 });
    holds(
      fc.property(tenths, tenths, fc.constantFrom(50, 60, 16.7, 25, 400), (nominal, off, frequency) => {
        const [center, half] = [nominal + off, off].map((n) => cyclesToSeconds(n / 10, { frequency })) as [
          number,
          number,
        ];
        const accepted = band(center, { absolute: half });
        for (const n of [nominal, nominal + 2 * off])
          expect(grade(cyclesToSeconds(n / 10, { frequency }), accepted)).toMatchObject({ verdict: "within", used: 1 });
      }),
    );
  });

  test("never are −0", () => {
    for (const amount of [0, -0, -5e-324]) {
      expect(cyclesToSeconds(amount, { frequency: 60 })).toBe(0);
      expect(secondsToCycles(amount, { frequency: 0.1 })).toBe(0);
    }
  });

  const calls = [
    ["cycles", cyclesToSeconds],
    ["seconds", secondsToCycles],
  ] as const;

  test.each(calls)("%s are refused where they, the frequency or the result do not make a number", (name, convert) => {
    const codes = (amount: unknown, frequency: unknown) =>
      problemsOf(() => convert(amount as number, { frequency } as never)).map(({ path, code }) => `${path} ${code}`);
    expect(codes(Number.NaN, 50)).toEqual([`${name} not-finite`]);
    expect(codes("12", 50)).toEqual([`${name} wrong-type`]);
    expect(codes(undefined, 50)).toEqual([`${name} missing`]);
    for (const frequency of [0, -50]) expect(codes(1, frequency)).toEqual(["frequency out-of-range"]);
    expect(codes(1, Number.POSITIVE_INFINITY)).toEqual(["frequency not-finite"]);
    expect(codes(1, undefined)).toEqual(["frequency missing"]);
    expect(codes(1e300, name === "cycles" ? 1e-300 : 1e300)).toEqual([`${name} out-of-range`]);
  });

  test.each(calls)("%s are refused beside a key that is none of theirs", (_, convert) => {
    expect(problemsOf(() => convert(1, { frequency: 50, frequncy: 60 } as never))).toMatchObject([
      { path: "frequncy", code: "unknown-key" },
    ]);
  });

  test.each(calls)(
    "%s are refused with a problem, not a slip of the code, where the frequency is not in an object",
    (_, convert) => {
      for (const at of [undefined, null, 50]) expect(problemsOf(() => convert(1, at as never))).toHaveLength(1);
    },
  );
});
