import { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { decimal } from "../../src/base/exact.js";
import {
  type QuantityKind,
  quantity,
  quantityExample,
  quantityProblem,
  readQuantity,
} from "../../src/base/quantity.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

/** Every unit with its power of ten; SI prefixes: SI brochure, 9th edition, table 7. */
const UNITS: { readonly [K in QuantityKind]: { readonly [unit: string]: number } } = {
  current: { A: 0, mA: -3, kA: 3 },
  voltage: { V: 0, mV: -3, kV: 3 },
  time: { s: 0, ms: -3, µs: -6, μs: -6, us: -6 }, // the micro sign, the Greek letter, and what keyboards have
  frequency: { Hz: 0, mHz: -3 },
  rate: { "Hz/s": 0, "mHz/s": -3 },
  ratio: { "": 0, "%": -2, percent: -2, pu: 0 },
  activePower: { W: 0, mW: -3, kW: 3, MW: 6 },
  power: { VA: 0, mVA: -3, kVA: 3 },
  // the letter omega, and the ohm sign that looks like it
  impedance: { ohm: 0, "\u03a9": 0, "\u2126": 0, mohm: -3, "m\u03a9": -3, "m\u2126": -3, kohm: 3 },
  angle: { "°": 0, deg: 0, degrees: 0 },
  percent: { "%": 0, percent: 0 },
};
const kinds = Object.keys(UNITS) as QuantityKind[];
const kindAndUnit = fc.constantFrom(
  ...kinds.flatMap((kind) => Object.entries(UNITS[kind]).map((u) => [kind, ...u] as const)),
);
/** A decimal with its sign, up to 14 digits, some of them behind the point. */
const typed = fc
  .tuple(fc.boolean(), fc.integer({ min: 0, max: 10 ** 14 }), fc.integer({ min: 0, max: 8 }))
  .map(([negative, digits, places]) =>
    new Decimal(digits)
      .div(10 ** places)
      .times(negative ? -1 : 1)
      .toFixed(),
  );

describe("a quantity with a unit", () => {
  test("is its number times the power of ten of its unit, to the nearest double", () => {
    holds(
      fc.property(typed, kindAndUnit, fc.constantFrom("", " ", "  "), (number, [kind, unit, power], space) => {
        const text = ` ${number}${space}${unit} `;
        expect(readQuantity(text, kind, "x").eq(new Decimal(`${number}e${power}`))).toBe(true);
        expect(quantity(text, kind, "x")).toBe(Number(`${number}e${power}`) + 0);
        expect(quantity(text.replace("-", "−"), kind, "x")).toBe(Number(`${number}e${power}`) + 0);
      }),
    );
  });

  test("counts minutes as 60 s and cycles at the frequency of the system, exactly", () => {
    expect(quantity("1.5 min", "time", "x")).toBe(90);
    expect(quantity("1 cycle", "time", "x", { frequency: 50 })).toBe(0.02);
    expect(readQuantity("11 cycles", "time", "x", { frequency: 60 }).times(60).minus(11).abs().lt("1e-50")).toBe(true);
    expect(readQuantity("3 cycles", "time", "x", { frequency: 16.7 }).times("16.7").minus(3).abs().lt("1e-50")).toBe(
      true,
    );
    expect(problemsOf(() => quantity("11 cycles", "time", "x"))).toMatchObject([{ code: "not-applicable", path: "x" }]);
  });

  test("may be a share of the rated value, where the kind has one and something says what it is", () => {
    const rated = decimal("63.5", "rated");
    for (const text of ["0.8 × rated", "0.8x rated", "0.8 * rated", "0.8×rated", ".8 x  rated"]) {
      expect(readQuantity(text, "voltage", "x", { rated }).toFixed()).toBe("50.8");
      expect(problemsOf(() => quantity(text, "voltage", "x"))).toMatchObject([{ code: "not-applicable" }]);
      expect(problemsOf(() => quantity(text, "time", "x", { rated }))).toMatchObject([{ code: "wrong-unit" }]);
    }
  });

  test("may be a bare number where it is a number, or text where the place says so", () => {
    for (const kind of kinds) {
      expect(quantity(4, kind, "x")).toBe(4);
      expect(quantity("4", kind, "x", { bareText: true })).toBe(4);
      // A ratio has no unit to write.
      if (kind === "ratio") expect(quantity("4", kind, "x")).toBe(4);
      else expect(problemsOf(() => quantity("4", kind, "x"))).toMatchObject([{ code: "wrong-unit", path: "x" }]);
    }
  });

  test("may be a share of the rated value in percent or per unit; a bare percentage does not say of what", () => {
    const rated = decimal("63.5", "rated");
    for (const text of ["80 % of rated", "80% of nominal", "0.8 pu", "0.8 × nominal"])
      expect(readQuantity(text, "voltage", "x", { rated }).toFixed()).toBe("50.8");
    expect(quantity("98 % of nominal", "frequency", "x", { rated: decimal(50, "") })).toBe(49);
    expect(quantity("110 %", "ratio", "x")).toBe(1.1);
    expect(quantity("500 mHz/s", "rate", "x")).toBe(0.5);
    for (const text of ["80 %", "80 % of", "80 % rated"])
      expect(problemsOf(() => quantity(text, "voltage", "x", { rated }))).toMatchObject([{ path: "x" }]);
    const [problem] = problemsOf(() => quantity("85.5 %", "voltage", "x", { rated }));
    expect(problem?.expected).toBe('a voltage such as "63.5 V", or "85.5 % of rated"');
    expect(problemsOf(() => quantity("85 %", "time", "x"))[0]?.expected).not.toMatch("of rated");
  });
});

describe("what is no quantity", () => {
  const rows: readonly (readonly [string, QuantityKind, string])[] = [
    ["4 V", "current", "wrong-unit"],
    ["4 s", "current", "wrong-unit"],
    ["50 Hz", "time", "wrong-unit"],
    ["5 %", "current", "wrong-unit"],
    ["4 MA", "current", "unreadable"], // case matters: mega is not milli
    ["4 a", "current", "unreadable"],
    ["4 constructor", "current", "unreadable"],
    ["4 __proto__", "current", "unreadable"],
    ["4 A 5", "current", "unreadable"],
    ["0.8 × Rated", "current", "unreadable"],
    ["about 4 A", "current", "unreadable"],
    ["", "current", "unreadable"],
    ["A", "current", "unreadable"],
    ["0x10 A", "current", "unreadable"],
    ["Infinity A", "current", "unreadable"],
    ["1e 3 A", "current", "unreadable"],
    ["−-4 A", "current", "unreadable"],
    ["4,5 A", "current", "decimal-comma"],
    ["−4,5 A", "current", "decimal-comma"],
    ["1e400 A", "current", "out-of-range"],
  ];

  test.each(rows)("%j as a %s is %s", (value, kind, code) => {
    const [problem] = problemsOf(() => quantity(value, kind, "elements[2].pickup"));
    expect(problem).toMatchObject({ code, path: "elements[2].pickup" });
    expect(problem?.expected).toContain(quantityExample(kind));
    expect(quantityProblem(value, kind, "elements[2].pickup")).toEqual(problem);
  });

  test("also is whatever is neither a finite number nor text", () => {
    expect(problemsOf(() => quantity(undefined, "time", "x"))).toMatchObject([{ code: "missing" }]);
    expect(problemsOf(() => quantity(Number.NaN, "time", "x"))).toMatchObject([{ code: "not-finite" }]);
    for (const value of [null, ["4 s"], 4n, true, { s: 4 }, Object("4 s")])
      expect(problemsOf(() => quantity(value, "time", "x"))).toMatchObject([{ code: "wrong-type" }]);
  });

  test("is told with an example that is itself a quantity of the kind", () => {
    for (const kind of kinds) {
      for (const [, example] of quantityExample(kind).matchAll(/"([^"]+)"/g))
        expect(quantityProblem(example, kind, "x")).toBeUndefined();
    }
  });

  test("is not found in what only needs a context: cycles and shares of rated", () => {
    expect(quantityProblem("12 cycles", "time", "x")).toBeUndefined();
    expect(quantityProblem("0.8 × rated", "voltage", "x")).toBeUndefined();
  });

  test("also is a result beyond the range of a double", () => {
    expect(problemsOf(() => quantity("1e308 kA", "current", "x"))).toMatchObject([{ code: "out-of-range", path: "x" }]);
  });
});
