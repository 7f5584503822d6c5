import fc from "fast-check";
import { toInt16 } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

describe("samples as 16-bit codes", () => {
  test("are the nearest code, a code being worth fullScale/32767", () => {
    const scale = fc.double({ min: 1e-3, max: 1e4, noNaN: true });
    holds(
      fc.property(
        scale,
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { maxLength: 50 }),
        (fullScale, shares) => {
          const samples = shares.map((share) => share * fullScale);
          const codes = toInt16(samples, { fullScale });
          for (const [n, sample] of samples.entries())
            expect(Math.abs(codes[n]! - (sample * 32_767) / fullScale)).toBeLessThanOrEqual(0.5 + 1e-10);
          const reversed = toInt16(
            samples.map((x) => -x),
            { fullScale },
          );
          expect([...reversed]).toEqual([...codes].map((code) => -code + 0));
        },
      ),
    );
  });

  test("fill what is given, and refuse a clipped sine", () => {
    const out = new Int16Array(2);
    expect(toInt16([0, -5], { fullScale: 5 }, out)).toBe(out);
    expect([...out]).toEqual([0, -32_767]);
    expect(problemsOf(() => toInt16([0, 5.001], { fullScale: 5 }, out))).toMatchObject([{ path: "samples[1]" }]);
    expect([...out]).toEqual([0, -32_767]);
  });

  test.each([
    [[0, Number.NaN], { fullScale: 1 }, undefined, "samples[1]"],
    [[0], { fullScale: 0 }, undefined, "fullScale"],
    [[0], { fullScale: 1, bits: 8 }, undefined, "bits"],
    [[0, 0], { fullScale: 1 }, new Int16Array(1), "out"],
    [undefined, { fullScale: 1 }, undefined, "samples"],
  ])("%j with %j is refused by name", (samples, scale, out, path) => {
    expect(problemsOf(() => toInt16(samples as never, scale, out))).toMatchObject([{ path }]);
  });
});
