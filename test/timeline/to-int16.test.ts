/** Samples as 16-bit codes. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { toInt16 } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const fullScales = fc.double({ min: 2e-300, max: 1e300, noNaN: true });
const shares = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 50, size: "max" });
const D = Decimal.clone({ defaults: true, precision: 40 });

describe("a code", () => {
  test("is worth fullScale/32767 each, and is the nearest to its sample", () => {
    holds(
      fc.property(shares, fullScales, (list, fullScale) => {
        const samples = list.map((share) => share * fullScale);
        for (const [n, code] of toInt16(samples, { fullScale }).entries()) {
          const off = new D(samples[n]!).div(fullScale).times(32_767).minus(code).abs().toNumber();
          expect(off).toBeLessThanOrEqual(0.5 + 1e-11);
        }
      }),
    );
  });

  test("of a sample on a half is the even one, in both directions", () => {
    const fullScale = 32_767;
    const halves = [0.5, 1.5, 2.5, -0.5, -1.5, -2.5, 32_766.5, -32_765.5];
    expect([...toInt16(halves, { fullScale })]).toEqual([0, 2, 2, 0, -2, -2, 32_766, -32_766]);
  });

  test("of the opposite sample is the opposite, and zero, full scale and less than half a code are what they are", () => {
    holds(
      fc.property(shares, (samples) => {
        const codes = toInt16(samples, { fullScale: 1 });
        const opposite = toInt16(
          Float64Array.from(samples, (x) => -x),
          { fullScale: 1 },
        );
        expect(codes.every((code, n) => code + opposite[n]! === 0)).toBe(true);
      }),
    );
    const tiny = 0.49 / 32_767;
    expect([...toInt16([0, -0, 1, -1, tiny, -tiny], { fullScale: 1 })]).toEqual([0, 0, 32_767, -32_767, 0, 0]);
    expect([...toInt16([5e-324, -2e-300], { fullScale: 2e-300 })]).toEqual([0, -32_767]);
    expect(toInt16([], { fullScale: 1 })).toHaveLength(0);
  });

  test("goes where it is told", () => {
    const out = new Int16Array(2);
    expect(toInt16(Float32Array.of(0.5, -0.25), { fullScale: 1 }, out)).toBe(out);
    expect([...out]).toEqual([16_384, -8192]);
  });
});

describe("what has no code is refused by name", () => {
  test.each([
    ["no samples", undefined, { fullScale: 1 }, undefined, "samples"],
    ["null for samples", null, { fullScale: 1 }, undefined, "samples"],
    ["text for samples", "123", { fullScale: 1 }, undefined, "samples"],
    ["a sample as text", [0, "1"], { fullScale: 1 }, undefined, "samples[1]"],
    ["a sample that is no number", Float64Array.of(0, 0, Number.NaN), { fullScale: 1 }, undefined, "samples[2]"],
    ["a sample without end", Float64Array.of(Number.NEGATIVE_INFINITY), { fullScale: 1 }, undefined, "samples[0]"],
    ["a sample beyond the full scale", [0, 1.0000000000000002], { fullScale: 1 }, undefined, "samples[1]"],
    ["a sample below its negative", Float64Array.of(0, -2, 3), { fullScale: 1 }, undefined, "samples[1]"],
    ["no options", [0], undefined, undefined, ""],
    ["a full scale of nothing", [0], { fullScale: 0 }, undefined, "fullScale"],
    ["a full scale whose codes overflow", [0], { fullScale: 1e-305 }, undefined, "fullScale"],
    ["a full scale without end", [0], { fullScale: Number.POSITIVE_INFINITY }, undefined, "fullScale"],
    ["an unknown option", [0], { fullScale: 1, bits: 16 }, undefined, "bits"],
    ["an out of another length", [0, 1], { fullScale: 1 }, new Int16Array(3), "out"],
    ["an out of doubles", [0, 1], { fullScale: 1 }, new Float64Array(2), "out"],
    ["null for out", [0, 1], { fullScale: 1 }, null, "out"],
  ])("%s", (_what, samples, scale, out, path) => {
    expect(problemsOf(() => toInt16(samples as never, scale as never, out as never))).toMatchObject([{ path }]);
  });

  test("wherever it alone lies beyond, above or below, or is no number, in a record of any length", () => {
    for (let length = 1; length <= 17; length++) {
      for (let place = 0; place < length; place++) {
        for (const beyond of [100.1, -100.1, Number.NaN, Number.NEGATIVE_INFINITY]) {
          const samples = new Float64Array(length).fill(50).fill(beyond, place, place + 1);
          expect(problemsOf(() => toInt16(samples, { fullScale: 100 }))).toMatchObject([{ path: `samples[${place}]` }]);
        }
      }
    }
  });

  test("the first of several by name", () => {
    for (let place = 0; place < 17; place++) {
      const samples = Float64Array.from({ length: 17 }, (_, n) => (n < place ? 1 : 2));
      expect(problemsOf(() => toInt16(samples, { fullScale: 1 }))).toMatchObject([{ path: `samples[${place}]` }]);
    }
  });

  test("as out of range, or as no number at all", () => {
    const codes = [2, -2, Number.NaN, Number.POSITIVE_INFINITY].map(
      (x) => problemsOf(() => toInt16(Float64Array.of(0, x), { fullScale: 1 }))[0]?.code,
    );
    expect(codes).toEqual(["out-of-range", "out-of-range", "not-finite", "not-finite"]);
  });

  test("with how many there are", () => {
    expect(() => toInt16([0, 2, 1, -3, 0.5], { fullScale: 1 })).toThrow("as 3 of 5 samples are");
  });
});
