import fc from "fast-check";
import { amplitudes, type KnownAmplitude, type Shape, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { D, exactly, PI, type Reference, SQRT2, ulpsOff } from "../base/reference.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";

type Name = "rms" | "peak" | "peakToPeak" | "averageRectified";
const NAMES = ["rms", "peak", "peakToPeak", "averageRectified"] as const;

/** One cycle of each shape with peak 1, over a phase from 0 to 1, from the definition of the shape. */
const WAVES: { readonly [S in Shape]: (phase: number) => number } = {
  sine: (phase) => valueAt({ rms: Math.SQRT1_2, frequency: 1 }, phase),
  square: (phase) => (phase < 0.5 ? 1 : -1),
  triangle: (phase) => 1 - 4 * Math.abs(phase - 0.5),
  sawtooth: (phase) => 2 * phase - 1,
  "half-wave": (phase) => Math.max(0, Math.cos(2 * Math.PI * phase)),
  "full-wave": (phase) => Math.abs(Math.cos(2 * Math.PI * phase)),
};
const shapes = Object.keys(WAVES) as Shape[];

/** The same amplitudes over the peak at 50 digits, by the integrals of the shapes. */
const third = new D(3).sqrt();
const SINE = { rms: new D(1).div(SQRT2), averageRectified: new D(2).div(PI) };
const RAMP = { rms: new D(1).div(third), averageRectified: new D(1).div(2) };
const PER_PEAK: { readonly [S in Shape]: { readonly [N in Name]: Reference } } = {
  sine: { ...SINE, peak: new D(1), peakToPeak: new D(2) },
  square: { rms: new D(1), averageRectified: new D(1), peak: new D(1), peakToPeak: new D(2) },
  triangle: { ...RAMP, peak: new D(1), peakToPeak: new D(2) },
  sawtooth: { ...RAMP, peak: new D(1), peakToPeak: new D(2) },
  "half-wave": { rms: new D(1).div(2), averageRectified: new D(1).div(PI), peak: new D(1), peakToPeak: new D(1) },
  "full-wave": { ...SINE, peak: new D(1), peakToPeak: new D(1) },
};

const sizes = fc.oneof(
  fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
  fc.double({ min: 1e-300, max: 1e300, noNaN: true }),
);
const cases = fc.tuple(fc.constantFrom(...shapes), fc.constantFrom(...NAMES), sizes);
const from = (shape: Shape, name: Name, value: number) => amplitudes({ [name]: value } as KnownAmplitude, shape);

describe("the amplitudes of a wave", () => {
  test("are those of its samples, taken over a whole cycle", () => {
    const count = 20_000;
    for (const shape of shapes) {
      const samples = Array.from({ length: count }, (_, i) => WAVES[shape]((i + 0.5) / count));
      const mean = (f: (x: number) => number) => samples.reduce((sum, x) => sum + f(x), 0) / count;
      const { rms, peak, peakToPeak, averageRectified } = amplitudes({ peak: 1 }, shape);
      // The midpoint rule leaves an error of the order of 1/count².
      expect(Math.sqrt(mean((x) => x * x))).toBeCloseTo(rms, 7);
      expect(mean(Math.abs)).toBeCloseTo(averageRectified, 7);
      expect(Math.max(...samples)).toBeCloseTo(peak, 3);
      expect(Math.max(...samples) - Math.min(...samples)).toBeCloseTo(peakToPeak, 3);
    }
  });

  test("are within 2 units in the last place of 50-digit values, from whichever is given", () => {
    holds(
      fc.property(cases, ([shape, name, value]) => {
        const peak = exactly(value).div(PER_PEAK[shape][name]);
        const all = from(shape, name, value);
        for (const other of NAMES)
          expect(ulpsOff(all[other], peak.times(PER_PEAK[shape][other]))).toBeLessThanOrEqual(2);
      }),
      250,
    );
  });

  test("are within 2 units in the last place where the error of the average of a sine is largest", () => {
    // Found by search.
    const average = exactly(1.0886006369710468).times(SQRT2).times(2).div(PI);
    expect(ulpsOff(amplitudes({ rms: 1.0886006369710468 }).averageRectified, average)).toBeLessThanOrEqual(2);
  });

  test("have the crest and form factor of the shape, whatever their size", () => {
    holds(
      fc.property(cases, ([shape, name, value]) => {
        const { rms, averageRectified } = PER_PEAK[shape];
        const { crestFactor, formFactor } = from(shape, name, value);
        expect(ulpsOff(crestFactor, new D(1).div(rms))).toBeLessThanOrEqual(0.5);
        expect(ulpsOff(formFactor, rms.div(averageRectified))).toBeLessThanOrEqual(0.5);
      }),
      100,
    );
  });

  test("hold the given one as it was given, and lead back to it from each of the others", () => {
    holds(
      fc.property(cases, ([shape, name, value]) => {
        const all = from(shape, name, value);
        expect(all[name]).toBe(value);
        for (const other of NAMES) expect(ulps(from(shape, other, all[other])[name], value)).toBeLessThanOrEqual(4);
      }),
      300,
    );
    // The smallest double has no half to be twice of.
    for (const shape of shapes) for (const name of NAMES) expect(from(shape, name, 5e-324)[name]).toBe(5e-324);
  });

  test("grow in proportion to the given one, to the bit for powers of two", () => {
    holds(
      fc.property(cases, fc.integer({ min: -10, max: 10 }), ([shape, name, value], power) => {
        fc.pre(value > 1e-290 && value < 1e290);
        const [one, scaled] = [from(shape, name, value), from(shape, name, value * 2 ** power)];
        for (const other of NAMES) expect(scaled[other]).toBe(one[other] * 2 ** power);
      }),
    );
  });

  test("of nothing are nothing, with the factors of the shape all the same", () => {
    for (const shape of shapes) {
      for (const name of NAMES) {
        const all = from(shape, name, 0);
        for (const other of NAMES) expect(all[other]).toBe(0);
        expect(all.crestFactor).toBe(from(shape, name, 1).crestFactor);
      }
    }
  });

  test("are those of a sine where no shape is named", () => {
    expect(amplitudes({ rms: 120 })).toEqual(amplitudes({ rms: 120 }, "sine"));
  });
});
