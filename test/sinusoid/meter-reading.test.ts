import fc from "fast-check";
import { amplitudes, type Meter, type MeterKind, meterReading, type Shape } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { D, exactly, PI, type Reference, SQRT2, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";

const KINDS: readonly MeterKind[] = ["true-rms", "average-responding", "peak-responding"];
const COUPLINGS = ["ac", "ac+dc"] as const;
const METERS: readonly Meter[] = KINDS.flatMap((kind) => COUPLINGS.map((coupling) => ({ kind, coupling })));

/** One cycle of each shape with peak 1, over a phase from 0 to 1, from the definition of the shape. */
const WAVES: { readonly [S in Shape]: (phase: number) => number } = {
  sine: (phase) => Math.cos(2 * Math.PI * phase),
  square: (phase) => (phase < 0.5 ? 1 : -1),
  triangle: (phase) => 1 - 4 * Math.abs(phase - 0.5),
  sawtooth: (phase) => 2 * phase - 1,
  "half-wave": (phase) => Math.max(0, Math.cos(2 * Math.PI * phase)),
  "full-wave": (phase) => Math.abs(Math.cos(2 * Math.PI * phase)),
};
const shapes = Object.keys(WAVES) as Shape[];

/** What a meter responds to over a peak of 1, at 50 digits: rms, mean of the magnitude, largest magnitude. */
type Responses = readonly [Reference, Reference, Reference];
const one = new D(1);
const half = one.div(2);
const ramp: Responses = [one.div(new D(3).sqrt()), half, one];

/** A rectified sine without its mean m: it lies above m over acos(m) on either side of a crest, by sin acos(m) − m acos(m). */
function withoutMean(square: Reference, m: Reference, crests: number): Responses {
  const above = D.acos(m);
  const area = above.sin().minus(m.times(above)).times(2).div(PI).times(crests);
  return [square.minus(m.pow(2)).sqrt(), area, D.max(m, one.minus(m))];
}

const sine: Responses = [half.sqrt(), new D(2).div(PI), one];
const ALL: { readonly [S in Shape]: Responses } = {
  sine,
  square: [one, one, one],
  triangle: ramp,
  sawtooth: ramp,
  "half-wave": [half, one.div(PI), one],
  "full-wave": sine,
};
const BLOCKED: { readonly [S in Shape]: Responses } = {
  ...ALL,
  "half-wave": withoutMean(half.pow(2), one.div(PI), 1),
  "full-wave": withoutMean(half, new D(2).div(PI), 2),
};

/** Scaled so that each shows the rms of a sine. */
function reading([rms, average, peak]: Responses, kind: MeterKind): Reference {
  if (kind === "true-rms") return rms;
  return kind === "average-responding" ? average.times(PI).div(SQRT2.times(2)) : peak.div(SQRT2);
}

/** How far a reading lies from 50 digits, as a share of the largest sample, with which a mean is rounded. */
function off(samples: readonly number[], meter: Meter): number {
  const values = samples.map(exactly);
  const mean = (list: readonly Reference[]): Reference =>
    list.reduce((total, x) => total.plus(x), new D(0)).div(list.length);
  const middle = meter.coupling === "ac" ? mean(values) : new D(0);
  const left = values.map((x) => x.minus(middle));
  const [squares, sizes] = [left.map((x) => x.pow(2)), left.map((x) => x.abs())];
  const exact = reading([mean(squares).sqrt(), mean(sizes), D.max(...sizes)], meter.kind);
  const size = Math.max(...samples.map(Math.abs), 1e-300);
  return exactly(meterReading(samples, meter)).minus(exact).abs().div(size).toNumber();
}

const peaks = fc.double({ min: 1e-3, max: 1e5, noNaN: true });
const lists = fc.array(spread(-100, 100), { minLength: 1, maxLength: 50 });

describe("what a meter shows for a shape", () => {
  test("is within 3 units in the last place of 50-digit values, by kind and coupling", () => {
    holds(
      fc.property(fc.constantFrom(...shapes), fc.constantFrom(...METERS), peaks, (shape, meter, peak) => {
        const over = (meter.coupling === "ac" ? BLOCKED : ALL)[shape];
        const exact = exactly(peak).times(reading(over, meter.kind));
        expect(ulpsOff(meterReading({ peak, shape }, meter), exact)).toBeLessThanOrEqual(3);
      }),
      300,
    );
  });

  test("is what it shows for samples of that shape", () => {
    const count = 4000;
    for (const shape of shapes) {
      const samples = Array.from({ length: count }, (_, i) => WAVES[shape]((i + 0.5) / count));
      // The midpoint rule is off by the order of 1/count², the largest sample by half a sample.
      for (const meter of METERS)
        expect(meterReading(samples, meter)).toBeCloseTo(
          meterReading({ peak: 1, shape }, meter),
          meter.kind === "peak-responding" ? 2 : 6,
        );
    }
  });

  test("is the rms value of a sine, whatever the meter and however the sine is given", () => {
    holds(
      fc.property(fc.constantFrom(...METERS), peaks, (meter, rms) => {
        const { peak, peakToPeak, averageRectified } = amplitudes({ rms });
        for (const wave of [{ rms }, { peak }, { peakToPeak }, { averageRectified }, { rms, shape: "sine" as const }])
          expect(ulps(meterReading(wave, meter), rms)).toBeLessThanOrEqual(4);
      }),
    );
  });

  test("by the mean of the magnitude is 11 % too high for a square wave, 4 % too low for a triangle", () => {
    const error = (shape: Shape): string =>
      (100 * (meterReading({ rms: 1, shape }, "average-responding") - 1)).toFixed(1);
    expect([error("square"), error("triangle")]).toEqual(["11.1", "-3.8"]);
  });
});

describe("what a meter shows for samples", () => {
  test("is within 2e-15 of the largest sample of 50-digit values", () => {
    holds(
      fc.property(lists, fc.constantFrom(...METERS), (samples, meter) => {
        expect(off(samples, meter)).toBeLessThanOrEqual(2e-15);
      }),
      150,
    );
    holds(
      fc.property(spread(0, 1), spread(-3, 3), fc.constantFrom(...METERS), (step, offset, meter) => {
        const samples = Array.from({ length: 3000 }, (_, i) => offset + Math.sin(i * step));
        expect(off(samples, meter)).toBeLessThanOrEqual(2e-15);
      }),
      3,
    );
  });

  test("does not lose digits with the number of samples", () => {
    const samples = Array.from({ length: 100_000 }, (_, i) => (i % 2 === 0 ? 0.1 : 0.3));
    const average = meterReading(samples, { kind: "average-responding", coupling: "ac+dc" });
    expect(ulps(average, amplitudes({ averageRectified: 0.2 }).rms)).toBeLessThanOrEqual(4);
    expect(ulps(meterReading(samples, "true-rms"), Math.sqrt(0.05))).toBeLessThanOrEqual(4);
  });

  test("behind a capacitor does not see a d.c. component that is added, with all digits of what is left", () => {
    const square = [1, 1, -1, -1];
    for (const offset of [-1e6, 0.5, 2 ** 40]) {
      const moved = square.map((x) => x + offset);
      for (const kind of KINDS)
        expect(meterReading(moved, { kind, coupling: "ac" })).toBe(meterReading(square, { kind, coupling: "ac" }));
    }
  });

  test("of everything is the root of the sum of the squares of d.c. component and rest", () => {
    holds(
      fc.property(lists, (samples) => {
        const mean = samples.reduce((total, x) => total + x, 0) / samples.length;
        const rest = meterReading(samples, { kind: "true-rms", coupling: "ac" });
        expect(Math.abs(meterReading(samples, "true-rms") - Math.hypot(mean, rest))).toBeLessThanOrEqual(1e-12);
      }),
    );
  });

  test("stays as it is when the wave is turned over, reversed or repeated", () => {
    holds(
      fc.property(lists, fc.constantFrom(...METERS), (samples, meter) => {
        const own = meterReading(samples, meter);
        const others = [samples.map((x) => -x), samples.toReversed(), [...samples, ...samples]];
        for (const other of others) expect(Math.abs(meterReading(other, meter) - own)).toBeLessThanOrEqual(1e-12);
        expect(meterReading(Float64Array.from(samples), meter)).toBe(own);
      }),
    );
  });

  test("keeps its digits where squares would leave the range of a double", () => {
    for (const size of [1e-300, 1e-200, 1e200, 1e300]) {
      for (const meter of METERS)
        expect(meterReading([3 * size, -3 * size, size, -size], meter) / size).toBeCloseTo(
          meterReading([3, -3, 1, -1], meter),
          13,
        );
    }
  });

  test("of one sample, of a steady value and of nothing is what each of these is", () => {
    for (const samples of [[-3], [-3, -3, -3]]) {
      expect(meterReading(samples, "true-rms")).toBe(3);
      for (const kind of KINDS) expect(meterReading(samples, { kind, coupling: "ac" })).toBe(0);
    }
    for (const meter of METERS) expect(Object.is(meterReading([0, -0], meter), 0)).toBe(true);
  });
});

describe("the coupling of a meter that names none", () => {
  test("is AC+DC for true rms, AC for the others", () => {
    const coupled = { "true-rms": "ac+dc", "average-responding": "ac", "peak-responding": "ac" } as const;
    for (const kind of KINDS) {
      for (const wave of [{ peak: 10, shape: "half-wave" } as const, [1, 5, 6]]) {
        const named = meterReading(wave, { kind, coupling: coupled[kind] });
        const other = coupled[kind] === "ac" ? "ac+dc" : "ac";
        expect(meterReading(wave, kind)).toBe(named);
        expect(meterReading(wave, { kind })).toBe(named);
        expect(meterReading(wave, { kind, coupling: other })).not.toBe(named);
      }
    }
  });
});
