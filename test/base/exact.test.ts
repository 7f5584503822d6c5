import { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { decimal, type Exact, signedDegrees, toNumber } from "../../src/base/exact.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const Wide = Decimal.clone({ defaults: true, precision: 120 });
const anyDouble = fc.double({ noNaN: true, noDefaultInfinity: true });
/** To 50 digits: what a quotient loses in the last of its 60 or more is of no account. */
const isFraction = (x: Decimal, numerator: number, denominator: number): boolean =>
  new Wide(numerator).div(denominator).div(x).minus(1).abs().lt("1e-50");
const digitsOf = (x: number): number => new Wide(x).precision();

describe("a number", () => {
  test("of up to 15 digits stands for the decimal that a person typed", () => {
    holds(
      fc.property(fc.maxSafeInteger(), fc.integer({ min: -290, max: 290 }), (digits, power) => {
        const typed = `${Math.trunc(digits / 10)}e${power}`; // at most 15 digits
        expect(decimal(Number(typed), "x").eq(typed)).toBe(true);
      }),
    );
    expect(decimal(0.1, "x").plus(decimal(0.2, "x")).toFixed()).toBe("0.3");
  });

  /** numerator/denominator as people compute them: cycles over a frequency, a level over a ratio. */
  const quotient = fc.oneof(
    fc.tuple(fc.integer({ min: 1, max: 10_000 }), fc.constantFrom(50, 60, 7, 3, 9)),
    fc.tuple(fc.integer({ min: 1, max: 10_000 }), fc.constant(167)).map(([n]) => [10 * n, 167] as const), // n/16.7
    fc.tuple(fc.integer({ min: 1, max: 1_000_000 }), fc.integer({ min: 1, max: 10_000 })),
  );

  test("that was computed as a fraction is read as the fraction, and its negative as the negative", () => {
    holds(
      fc.property(quotient, ([numerator, denominator]) => {
        const x = numerator / denominator;
        // A double that 15 digits can name may have been typed: then the decimal is meant.
        const isDecimal = decimal(x, "x").eq(new Wide(x));
        if (digitsOf(x) < 15) expect(isDecimal).toBe(true);
        else if (digitsOf(x) > 15 || !isDecimal) expect(isFraction(decimal(x, "x"), numerator, denominator)).toBe(true);
        expect(decimal(-x, "x").eq(decimal(x, "x").neg())).toBe(true);
      }),
      500,
    );
  });

  test("of 15 digits is read as a fraction that is no coincidence, else as it was typed", () => {
    expect(11 / 167).toBe(0.0658682634730539);
    expect(isFraction(decimal(0.0658682634730539, "x"), 11, 167)).toBe(true);
    expect(isFraction(decimal(-0.0658682634730539, "x"), -11, 167)).toBe(true);
    // 10^9 and a 9,973rd has a double as near as any decimal of 15 digits there.
    const far = Number((1e9 + 1 / 9973).toPrecision(15));
    expect(decimal(far, "x").eq(String(far))).toBe(true);
  });

  test("makes every number of cycles at 50 Hz and 60 Hz exact, so that 11 of them lie on the limit of 10 ± 1", () => {
    for (let cycles = 1; cycles <= 1500; cycles++) {
      for (const frequency of [50, 60])
        expect(isFraction(decimal(cycles / frequency, "x"), cycles, frequency)).toBe(true);
    }
  });

  test("never leaves its own double, and −0 does not come back", () => {
    holds(
      fc.property(anyDouble, (x) => {
        expect(toNumber(decimal(x, "x"), "x")).toBe(x + 0);
      }),
      500,
    );
    holds(
      fc.property(quotient, ([numerator, denominator]) => {
        expect(toNumber(decimal(numerator / denominator, "x"), "x")).toBe(numerator / denominator);
      }),
    );
  });
});

describe("text", () => {
  test("is read exactly, digit by digit", () => {
    const digits = fc.string({ unit: fc.constantFrom(..."0123456789"), minLength: 1, maxLength: 60 });
    holds(
      fc.property(fc.constantFrom("", "-"), digits, digits, (sign, whole, part) => {
        const scaled = BigInt(sign + whole + part);
        const read = decimal(` ${sign}${whole}.${part} `, "x");
        expect(BigInt(new Wide(read).times(`1e${part.length}`).toFixed()) - scaled).toBe(0n);
      }),
    );
    for (const text of ["1.", ".5", "+2", "3e-2", "3E+2"]) expect(decimal(text, "x").toNumber()).toBe(Number(text));
  });

  test("that is no plain decimal is refused", () => {
    const unreadable = ["", "0x10", "0b1", "Infinity", "-Infinity", "NaN", "1e", ".", "--1", "1_0", "1 2", "1,000.5"];
    for (const text of [...unreadable, "٣", "1e99999", "9".repeat(500)])
      expect(problemsOf(() => decimal(text, "x"))).toMatchObject([{ code: "unreadable", path: "x" }]);
    for (const text of ["1,5", "-12,75"])
      expect(problemsOf(() => decimal(text, "x"))).toMatchObject([{ code: "decimal-comma" }]);
    for (const text of ["1e400", "-1e309", "1e-400"])
      expect(problemsOf(() => decimal(text, "x"))).toMatchObject([{ code: "out-of-range" }]);
  });
});

describe("anything else", () => {
  test("is read where it is a decimal object, by its own text", () => {
    expect(decimal(new Decimal("1.10").div(8), "x").toFixed()).toBe("0.1375");
    expect(decimal({ toFixed: () => "2.50" }, "x").toFixed()).toBe("2.5");
    for (const text of ["NaN", "Infinity", "1,5"])
      expect(problemsOf(() => decimal({ toFixed: () => text }, "x"))).toHaveLength(1);
  });

  test("is refused where it is not", () => {
    const wrong = [null, true, [1], {}, 5n, () => 1, { toFixed: "1" }, { toFixed: () => 1 }];
    for (const value of wrong)
      expect(problemsOf(() => decimal(value as Exact, "x"))).toMatchObject([{ code: "wrong-type", path: "x" }]);
    expect(problemsOf(() => decimal(undefined as never, "x"))).toMatchObject([{ code: "missing" }]);
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY])
      expect(problemsOf(() => decimal(value, "x"))).toMatchObject([{ code: "not-finite" }]);
  });
});

test("a boxed number is refused: it has a toFixed too, but one that rounds to whole numbers", () => {
  expect(problemsOf(() => decimal(Object(0.25), "x"))).toMatchObject([{ code: "wrong-type", path: "x" }]);
});

describe("the double nearest to a decimal", () => {
  test("is refused beyond the range of a double", () => {
    const huge = decimal("1e300", "x").times("1e300");
    expect(problemsOf(() => toNumber(huge, "y"))).toMatchObject([{ code: "out-of-range", path: "y" }]);
    expect(toNumber(decimal("-1e-300", "x").times("1e-300"), "y")).toBe(0);
  });
});

describe("an angle above −180° and up to 180°", () => {
  const signed = (angle: Exact): number => toNumber(signedDegrees(decimal(angle, "angle")), "angle");

  test("keeps every digit, counts half a turn as +180° and is never −0", () => {
    expect(signed("448.1")).toBe(88.1);
    expect(signed("-190.25")).toBe(169.75);
    expect(signed("180.0001")).toBe(-179.9999);
    for (const half of [180, -180, 540, "-900"]) expect(signed(half)).toBe(180);
    for (const none of [0, 360, "-720"]) expect(signed(none)).toBe(0);
  });

  test("takes half a turn for one where only the rounding of a quotient parts them", () => {
    const third = decimal(540, "angle").div(7).times(7).div(3); // 180 but for its last digits
    expect(toNumber(signedDegrees(third), "angle")).toBe(180);
    expect(toNumber(signedDegrees(decimal(180, "angle").plus("1e-85")), "angle")).toBe(180);
  });

  test("is the same direction, within the range, for every angle", () => {
    const typed = fc.tuple(fc.integer({ min: -10_000_000, max: 10_000_000 }), fc.integer({ min: 0, max: 6 }));
    holds(
      fc.property(typed, ([digits, places]) => {
        const angle = decimal(`${digits}e-${places}`, "angle");
        const turned = signedDegrees(angle);
        expect(turned.gt(-180) && turned.lte(180)).toBe(true);
        expect(turned.minus(angle).mod(360).isZero()).toBe(true);
      }),
    );
  });
});
