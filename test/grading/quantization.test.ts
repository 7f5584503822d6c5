/** The steps of converters; usual ones stand in test/published/grading/quantization.json. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { effectiveBits, quantization, standardUncertainty } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 40 });
const bitses = fc.integer({ min: 1, max: 32 });
const spans = typedDecimals({ digits: 6, places: 4, min: 1 });
/** A full sine has half the square of its amplitude, span/2; the rounding a twelfth of the square of its step. */
const decibels = (bits: number): Decimal =>
  D.log10(
    new D(2)
      .pow(2 * bits)
      .times(12)
      .div(8),
  ).times(10);

describe("quantization", () => {
  test("is that of the formulas in 40 digits, whether the span comes as text or as a number", () => {
    holds(
      fc.property(bitses, spans, (bits, span) => {
        const { step, standard, signalToNoise } = quantization({ bits, span: span.text });
        const exact = new D(span.text).div(new D(2).pow(bits));
        expect(step).toBe(exact.toNumber());
        expect(ulps(standard, exact.div(new D(12).sqrt()).toNumber())).toBeLessThanOrEqual(2);
        expect(ulps(signalToNoise, decibels(bits).toNumber())).toBeLessThanOrEqual(2);
        expect(quantization({ bits, span: Number(span.text) })).toEqual({ step, standard, signalToNoise });
        expect(standard).toBe(standardUncertainty({ resolution: step }));
      }),
    );
  });

  test("of one bit more has half the step, and of twice the span twice the step at the same ratio", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 31 }), spans, (bits, { text: span }) => {
        const [plain, finer] = [quantization({ bits, span }), quantization({ bits: bits + 1, span })];
        expect([2 * finer.step, 2 * finer.standard]).toEqual([plain.step, plain.standard]);
        expect(finer.signalToNoise - plain.signalToNoise).toBeCloseTo(20 * Math.log10(2), 12);
        const wider = quantization({ bits, span: 2 * Number(span) });
        expect(wider).toEqual({ ...plain, step: 2 * plain.step, standard: 2 * plain.standard });
      }),
    );
  });

  test.each([
    [{ bits: 0, span: 1 }, "out-of-range", "bits"],
    [{ bits: 33, span: 1 }, "out-of-range", "bits"],
    [{ bits: 8.5, span: 1 }, "out-of-range", "bits"],
    [{ bits: "8", span: 1 }, "wrong-type", "bits"],
    [{ span: 1 }, "missing", "bits"],
    [{ bits: 8, span: 0 }, "out-of-range", "span"],
    [{ bits: 8, span: "-1" }, "out-of-range", "span"],
    [{ bits: 8, span: "4,5" }, "decimal-comma", "span"],
    [{ bits: 8 }, "missing", "span"],
    [{ bits: 8, span: 1, digits: 3 }, "unknown-key", "digits"],
    [undefined, "missing", ""],
  ])("of %j is refused", (given, code, path) => {
    expect(problemsOf(() => quantization(given as never))).toMatchObject([{ code, path }]);
  });
});

describe("effective bits", () => {
  test("of a perfect converter are its own", () => {
    for (let bits = 1; bits <= 32; bits++) {
      const { signalToNoise } = quantization({ bits, span: 1 });
      expect(Math.abs(effectiveBits(signalToNoise) - bits)).toBeLessThanOrEqual(4 * 2 ** -52 * bits);
    }
  });

  test("grow with the ratio by one for each 20·log10(2) dB, are none at 10·log10(3/2) dB and fewer below", () => {
    const [none, each] = [D.log10("1.5").times(10), D.log10(2).times(20)];
    holds(
      fc.property(fc.integer({ min: -20_000, max: 20_000 }), (hundredths) => {
        const ratio = hundredths / 100;
        const exact = new D(ratio).minus(none).div(each).toNumber();
        const terms = Math.max(Math.abs(ratio), none.toNumber()) / each.toNumber();
        expect(Math.abs(effectiveBits(ratio) - exact)).toBeLessThanOrEqual(4 * 2 ** -52 * terms);
      }),
    );
    expect(effectiveBits(none.toNumber())).toBe(0);
  });

  test("of what is no ratio are refused", () => {
    expect(problemsOf(() => effectiveBits(Number.NaN))).toMatchObject([{ code: "not-finite", path: "decibels" }]);
    expect(problemsOf(() => effectiveBits("50" as never))).toMatchObject([{ code: "wrong-type", path: "decibels" }]);
  });
});
