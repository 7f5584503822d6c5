import fc from "fast-check";
import { type Rounding, roundTo } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { type TypedDecimal, textOf, typedDecimal, typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const MODES = ["half-even", "half-away", "floor", "ceiling"] as const;
type Mode = (typeof MODES)[number];

/** n/d to a whole number, in whole numbers: the quotient below and its remainder decide. */
function rounded(n: bigint, d: bigint, mode: Mode): bigint {
  const below = n >= 0n ? n / d : -((-n + d - 1n) / d);
  const rest = n - below * d;
  if (rest === 0n || mode === "floor") return below;
  if (mode === "ceiling") return below + 1n;
  if (2n * rest !== d) return 2n * rest < d ? below : below + 1n;
  if (mode === "half-away") return n < 0n ? below : below + 1n;
  return below % 2n === 0n ? below : below + 1n;
}

/** The nearest multiple of the step, as text. */
function expected(value: TypedDecimal, step: TypedDecimal, mode: Mode): number {
  const [n, d] = [value.units * 10n ** BigInt(step.places), step.units * 10n ** BigInt(value.places)];
  return Number(textOf(rounded(n, d, mode) * step.units, step.places)) + 0;
}

const mode = fc.constantFrom(...MODES);
const anywhere = typedDecimals({ digits: 9, places: 6 });
const steps = fc.oneof(
  fc.constantFrom(typedDecimal(5n, 2), typedDecimal(25n, 1), typedDecimal(5n, 1), typedDecimal(10n, 0)),
  typedDecimals({ digits: 3, places: 3, min: 1 }),
);
/** Half the time a value right between two multiples of the step, where the modes part. */
const valueAndStep = steps.chain((step) => {
  const tie = fc
    .integer({ min: -5000, max: 5000 })
    .map((n) => typedDecimal(BigInt(2 * n + 1) * step.units * 5n, step.places + 1));
  return fc.tuple(fc.oneof(anywhere, tie), fc.constant(step));
});

describe("roundTo", () => {
  test("a step rounds to the multiple that whole numbers give, in all four modes", () => {
    holds(
      fc.property(valueAndStep, mode, ([value, step], way) => {
        const wanted = expected(value, step, way);
        expect(roundTo(value.text, { step: step.text, mode: way })).toBe(wanted);
        expect(roundTo(Number(value.text), { step: Number(step.text), mode: way })).toBe(wanted);
      }),
      600,
    );
  });

  test("decimals keep so many places, negative ones round before the point", () => {
    holds(
      fc.property(anywhere, fc.integer({ min: -5, max: 8 }), mode, (value, decimals, way) => {
        const step = decimals < 0 ? typedDecimal(10n ** BigInt(-decimals), 0) : typedDecimal(1n, decimals);
        expect(roundTo(value.text, { decimals, mode: way })).toBe(expected(value, step, way));
      }),
      300,
    );
  });

  test("a tie goes to the even neighbour where nothing else is said, and away from zero where it is", () => {
    expect([0.125, 0.375, -0.125, 2.675].map((x) => roundTo(x, { decimals: 2 }))).toEqual([0.12, 0.38, -0.12, 2.68]);
    const away = { decimals: 2, mode: "half-away" } as const;
    expect([0.125, 0.375, -0.125, 2.665].map((x) => roundTo(x, away))).toEqual([0.13, 0.38, -0.13, 2.67]);
    expect([0.025, 0.075, 0.125].map((x) => roundTo(x, { step: 0.05 }))).toEqual([0, 0.1, 0.1]);
    expect([1.25, 3.75, -1.25].map((x) => roundTo(x, { step: 2.5 }))).toEqual([0, 5, 0]);
  });

  test("a step that no decimals say exactly is taken as its fraction: cycles of 60 Hz", () => {
    const cycles = (count: number, way: Mode) => roundTo(count / 60, { step: 1 / 60, mode: way }) * 60;
    expect([cycles(11, "floor"), cycles(7, "ceiling")]).toEqual([11, 7]);
    expect([1.5, 2.5, 3.5].map((count) => cycles(count, "half-even"))).toEqual([2, 2, 4]);
    expect(cycles(2.5, "half-away")).toBe(3);
    expect(roundTo(2, { step: 2 / 3, mode: "floor" })).toBe(2);
  });

  test("halves of thirds, twelfths and sixtieths go where whole numbers say, in all four modes", () => {
    const parts = fc.constantFrom(3, 6, 12, 15, 30, 60);
    holds(
      fc.property(parts, fc.integer({ min: -20_000, max: 20_000 }), mode, (part, halves, way) => {
        const wanted = Number(rounded(BigInt(halves), 2n, way)) / part + 0;
        expect(roundTo(halves / (2 * part), { step: 1 / part, mode: way })).toBe(wanted);
      }),
      400,
    );
  });

  test("the halves are symmetric about zero, and floor mirrors ceiling", () => {
    holds(
      fc.property(valueAndStep, ([value, step]) => {
        const [there, back] = [value, typedDecimal(-value.units, value.places)].map(({ text }) =>
          MODES.map((way) => roundTo(text, { step: step.text, mode: way })),
        );
        const [even, away, floor, ceiling] = there!;
        expect(back).toEqual([even, away, ceiling, floor].map((x) => 0 - x!));
      }),
    );
  });

  test("rounding twice is rounding once", () => {
    holds(
      fc.property(valueAndStep, mode, ([value, step], way) => {
        const rounding: Rounding = { step: step.text, mode: way };
        const once = roundTo(value.text, rounding);
        expect(roundTo(once, rounding)).toBe(once);
      }),
    );
  });

  test("floor ≤ nearest ≤ ceiling with the value between them, at most one step apart", () => {
    holds(
      fc.property(valueAndStep, ([value, step]) => {
        const [even, away, floor, ceiling] = MODES.map((way) => roundTo(value.text, { step: step.text, mode: way }));
        const x = Number(value.text);
        expect(floor! <= x && x <= ceiling!).toBe(true);
        expect([floor, ceiling]).toEqual(expect.arrayContaining([even]));
        expect([floor, ceiling]).toEqual(expect.arrayContaining([away]));
        expect(ceiling! - floor!).toBeLessThanOrEqual(Number(step.text) * (1 + 1e-9) + 1e-9 * Math.abs(x));
      }),
    );
  });

  test("what rounds to zero is not −0", () => {
    expect(roundTo(-0.2, { decimals: 0 })).toBe(0);
    expect(roundTo(-0.2, { decimals: 0, mode: "ceiling" })).toBe(0);
  });

  test("a multiple beyond the range of a double is refused, not infinite", () => {
    const beyond = { step: 1e308, mode: "ceiling" } as const;
    expect(problemsOf(() => roundTo(1.7e308, beyond))).toMatchObject([{ code: "out-of-range", path: "value" }]);
  });

  test.each([
    ["a value that is not finite", Number.NaN, { decimals: 2 }, "not-finite", "value"],
    ["a value with a decimal comma", "2,5", { decimals: 2 }, "decimal-comma", "value"],
    ["half a decimal", 1, { decimals: 1.5 }, "out-of-range", "decimals"],
    ["too many decimals", 1, { decimals: 301 }, "out-of-range", "decimals"],
    ["no place", 1, {}, "missing", "decimals"],
    ["a step of 0", 1, { step: 0 }, "out-of-range", "step"],
    ["a negative step", 1, { step: "-0.5" }, "out-of-range", "step"],
    ["a step that is not finite", 1, { step: Number.NaN }, "not-finite", "step"],
    ["a step beside decimals", 1, { step: 0.5, decimals: 1 }, "conflict", "decimals"],
    ["an unknown mode", 1, { decimals: 1, mode: "up" }, "unknown-name", "mode"],
    ["a misspelt key", 1, { decimal: 1 }, "unknown-key", "decimal"],
  ])("%s is refused by name", (_, value, rounding, code, path) => {
    expect(problemsOf(() => roundTo(value, rounding as never))).toMatchObject([{ code, path }]);
  });
});
