import fc from "fast-check";
import { type AngleRange, angle, formatPolar, magnitude, type Phasor, parsePolar, polar } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { distance, extremePhasors, isZero, phasors, sizeOf } from "./phasors.js";

const RANGES = ["signed", "positive", "lagging"] as const;
const ranges = fc.constantFrom<AngleRange>(...RANGES);
const units = fc.constantFrom("", "V", "kV", "A", "Ω", "p.u.", "%", "mV/A");

/** The numbers of "66.4 V ∠ -120°". */
function shown(text: string): { size: number; degrees: number } {
  const [, size, degrees] = /^(\S+) (?:\S+ )?∠ (\S+)°$/.exec(text) ?? [];
  return { size: Number(size), degrees: Number(degrees) };
}

describe("a phasor as text", () => {
  test("has the magnitude, the unit and the angle, without trailing zeros", () => {
    expect(formatPolar(polar(66.4, -120), { unit: "V" })).toBe("66.4 V ∠ -120°");
    expect(formatPolar(polar(66.4, -120))).toBe("66.4 ∠ -120°");
    expect(formatPolar({ re: 0, im: -2.5 }, { unit: "kA" })).toBe("2.5 kA ∠ -90°");
    expect(formatPolar(polar(1, 0))).toBe("1 ∠ 0°");
    expect(formatPolar({ re: 3, im: 4 })).toBe("5 ∠ 53.1301°");
    expect(formatPolar({ re: 3, im: 4 }, { digits: 3 })).toBe("5 ∠ 53.1°");
    expect(formatPolar(polar(123.456, 12.3456), { digits: 2 })).toBe("120 ∠ 12°");
    expect(formatPolar(polar(123.456, 12.3456), { digits: 1 })).toBe("100 ∠ 12°");
  });

  test("counts the angle as the range says", () => {
    const degrees = (at: number) => RANGES.map((range) => shown(formatPolar(polar(5, at), { range })).degrees);
    expect(degrees(-120)).toEqual([-120, 240, 120]);
    expect(degrees(30)).toEqual([30, 30, 330]);
    expect(degrees(180)).toEqual([180, 180, 180]);
    expect(degrees(0)).toEqual([0, 0, 0]);
  });

  test("stays in the range where rounding would leave it", () => {
    const text = (at: number, range: AngleRange) => formatPolar(polar(1, at), { range, digits: 4 });
    expect(text(-179.999, "signed")).toBe("1 ∠ 180°");
    expect(text(-0.001, "positive")).toBe("1 ∠ 0°");
    expect(text(0.001, "lagging")).toBe("1 ∠ 0°");
    expect(text(-0.001, "signed")).toBe("1 ∠ 0°");
    expect(text(-179.99, "signed")).toBe("1 ∠ -179.99°");
  });

  test("is within half a unit of its last digit, of the magnitude and of the angle", () => {
    holds(
      fc.property(phasors, ranges, fc.integer({ min: 1, max: 12 }), (p, range, digits) => {
        fc.pre(!isZero(p));
        const { size, degrees } = shown(formatPolar(p, { range, digits }));
        const unit = 10 ** (Math.floor(Math.log10(magnitude(p)) + 1e-9) - digits + 1);
        expect(Math.abs(size - magnitude(p))).toBeLessThanOrEqual(0.5001 * unit);
        const apart = Math.abs(degrees - angle(p, range)) % 360;
        const finest = 0.5001 * 10 ** -Math.max(digits - 2, 0);
        expect(Math.min(apart, 360 - apart)).toBeLessThanOrEqual(finest + 1e-13);
      }),
    );
  });

  test("is read back: with 17 digits within 1e-15 of the magnitude, at every size", () => {
    holds(
      fc.property(fc.oneof(phasors, extremePhasors), units, (p, unit) => {
        fc.pre(sizeOf(p) < 1.7e308);
        const { unit: read = "", ...back } = parsePolar(formatPolar(p, { digits: 17, unit }));
        expect(read).toBe(unit);
        // Scaled up, lest the tolerance itself has no digits left.
        const up = magnitude(p) < 1 ? 2 ** 500 : 2 ** -500;
        const big = ({ re, im }: Phasor) => ({ re: re * up, im: im * up });
        expect(distance(big(back), big(p))).toBeLessThanOrEqual(1e-15 * sizeOf(big(p)) + 2 * 5e-324 * up);
      }),
      500,
    );
  });

  test("is read back at any number of digits, as finely as it was written", () => {
    holds(
      fc.property(phasors, ranges, fc.integer({ min: 1, max: 17 }), (p, range, digits) => {
        fc.pre(range !== "lagging");
        const back = parsePolar(formatPolar(p, { range, digits }));
        const finest = 0.51 * 10 ** (1 - digits) + (0.51 * Math.PI * 10 ** -Math.max(digits - 2, 0)) / 180;
        expect(distance(back, p)).toBeLessThanOrEqual((finest + 1e-15) * sizeOf(p));
      }),
    );
  });

  test("has no angle at and below the floor, and without one only where it is 0", () => {
    const noise = { re: 1e-9, im: -3e-9 };
    expect(formatPolar(noise, { unit: "A", floor: 1e-6 })).toBe("0 A");
    expect(formatPolar(noise, { floor: 1e-6 })).toBe("0");
    expect(formatPolar(noise, { unit: "A" })).toBe("3.16228e-9 A ∠ -71.5651°");
    expect(formatPolar({ re: 0, im: -0 }, { unit: "V" })).toBe("0 V");
    expect([5, 4.999].map((floor) => formatPolar({ re: 3, im: 4 }, { floor }))).toEqual(["0", "5 ∠ 53.1301°"]);
    expect(parsePolar("0 A")).toEqual({ re: 0, im: 0, unit: "A" });
  });

  test("holds the largest magnitude", () => {
    expect(formatPolar({ re: Number.MAX_VALUE, im: 0 }, { digits: 1 })).toBe("1.7976931348623157e+308 ∠ 0°");
    expect(formatPolar({ re: 5e-324, im: 0 })).toBe("5e-324 ∠ 0°");
  });
});

describe("what cannot be printed", () => {
  const problem = (p: unknown, format?: unknown) => {
    const [first, ...more] = problemsOf(() => formatPolar(p as Phasor, format as object));
    expect(more).toEqual([]);
    return `${first?.path} ${first?.code}`;
  };

  test("is told by name", () => {
    const p = { re: 3, im: 4 };
    expect(problem(undefined)).toBe("p missing");
    expect(problem({ re: 3, im: Number.NaN })).toBe("p.im not-finite");
    expect(problem("3+4j")).toBe("p wrong-type");
    expect(problem(p, null)).toBe(" wrong-type");
    expect(problem(p, { digit: 3 })).toBe("digit unknown-key");
    for (const digits of [0, 18, 2.5]) expect(problem(p, { digits })).toBe("digits out-of-range");
    expect(problem(p, { digits: "3" })).toBe("digits wrong-type");
    expect(problem(p, { floor: -1 })).toBe("floor out-of-range");
    expect(problem(p, { floor: Number.NaN })).toBe("floor not-finite");
    expect(problem(p, { range: "negative" })).toBe("range unknown-name");
    for (const unit of [null, 5, {}]) expect(problem(p, { unit })).toBe("unit wrong-type");
    expect(problem({ re: 1.7e308, im: 1.7e308 })).toBe(" out-of-range");
  });
});
