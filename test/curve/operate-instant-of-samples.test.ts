/** Long records, whose blocks are summed: against the plain integral, sample by sample. */
import {
  type CurveName,
  type CurveSetting,
  type InverseCurve,
  operateInstant,
  operateInstantOfSamples,
  operateTime,
  standardCurve,
} from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

/** With and without c, with a table of powers and without. */
const names = [
  "iec-inverse",
  "ieee-moderately-inverse",
  "iec-very-inverse",
  "iec-extremely-inverse",
  "ieee-very-inverse",
] as const;
const curves = names.map((curve) => [curve] as const);

/** Enough samples for blocks and a table; odd, so that the last block is neither full nor even. */
const COUNT = 20_001;
const wandering = Float64Array.from({ length: COUNT }, (_, i) => 1.01 + 25 * ((i * 0.6180339887498949) % 1));

const multiplier = 0.3;

/** 1/t(M) of each sample, by the plain formula. */
function ratesOf(name: CurveName, samples: Float64Array): Float64Array {
  const { k, alpha, c } = standardCurve(name) as InverseCurve;
  return samples.map((multiple) => 1 / (multiplier * (k / Math.expm1(alpha * Math.log1p(multiple - 1)) + c)));
}

/** Σ dt/t(M), compensated, and when it is 1. */
function plainIntegral(rates: Float64Array, sampleRate: number) {
  let [travel, lost] = [0, 0];
  for (const [i, rate] of rates.entries()) {
    const gained = rate / sampleRate + lost;
    if (travel + gained >= 1) return { operatedAt: i / sampleRate + (1 - travel - lost) / rate, travel: 1 };
    const next = travel + gained;
    lost = gained - (next - travel);
    travel = next;
  }
  return { travel };
}

const sumOf = (rates: Float64Array) => rates.reduce((sum, rate) => sum + rate, 0);

describe("a long record", () => {
  test.each(["iec-inverse", "iec-very-inverse", "iec-extremely-inverse"] as const)(
    "of %s does not run below a start of its own, and beyond the ceiling runs as at the ceiling",
    (curve) => {
      const travelAt = (multiple: number, setting: CurveSetting) =>
        operateInstantOfSamples(setting, new Float64Array(20_001).fill(multiple), { sampleRate: 20_001 }).travel;
      const late = { curve, startRatio: 1.3, multiplier: 9 } as const;
      expect(travelAt(1.2, late)).toBe(0);
      expect(travelAt(1.3, late)).toBe(0);
      expect(travelAt(1.4, late)).toBeCloseTo(1 / operateTime(late, 1.4), 12);
      const held = { curve, ceilingMultiple: 10, multiplier: 9 } as const;
      expect(travelAt(40, held)).toBeCloseTo(1 / operateTime(held, 10), 12);
      expect(travelAt(40, { ...late, ...held })).toBeCloseTo(1 / operateTime(held, 10), 12);
    },
  );

  test("of immense multiples runs at the constant part alone", () => {
    // The products of two denominators leave the doubles, those of a numerator and a denominator do not.
    const setting = { curve: { form: "inverse", k: 1, alpha: 1, c: 1e6 } } as const;
    const { travel } = operateInstantOfSamples(setting, new Float64Array(5_000).fill(1e149), { sampleRate: 1 });
    expect(travel).toBeCloseTo(0.005, 14);
  });

  test.each(curves)("of %s that wanders operates where the plain integral does, to 1e-13 of it", (curve) => {
    const rates = ratesOf(curve, wandering);
    for (const share of [0.03, 0.5, 0.99999]) {
      const sampleRate = share * sumOf(rates);
      const { operatedAt = 0 } = operateInstantOfSamples({ curve, multiplier }, wandering, { sampleRate });
      const expected = plainIntegral(rates, sampleRate).operatedAt ?? Number.NaN;
      expect(Math.abs(operatedAt - expected)).toBeLessThanOrEqual((1e-13 * COUNT) / sampleRate);
    }
  });

  test.each(curves)("of %s that ends before that has the travel of the plain integral", (curve) => {
    const rates = ratesOf(curve, wandering);
    const sampleRate = 1.7 * sumOf(rates);
    const { operatedAt, travel } = operateInstantOfSamples({ curve, multiplier }, wandering, { sampleRate });
    expect(operatedAt).toBeUndefined();
    expect(Math.abs(travel - plainIntegral(rates, sampleRate).travel)).toBeLessThanOrEqual(1e-13);
  });

  test.each(curves)("of a million samples of %s at one multiple operates at its operate time", (curve) => {
    const samples = new Float64Array(1_000_000).fill(3);
    const time = operateTime({ curve }, 3);
    const { operatedAt = 0 } = operateInstantOfSamples({ curve }, samples, { sampleRate: 999_000.4 / time });
    expect(Math.abs(operatedAt - time)).toBeLessThanOrEqual(1e-13 * time);
  });

  test("of ten million samples keeps its digits too: what is left is the rounding within blocks", () => {
    const curve = "iec-very-inverse";
    const time = operateTime({ curve }, 3.3);
    const sampleRate = 9_999_000.4 / time;
    const { operatedAt = 0 } = operateInstantOfSamples({ curve }, new Float64Array(1e7).fill(3.3), { sampleRate });
    // 1,024 additions, each to half a unit in the last place of a sum that is half as large in the mean
    expect(Math.abs(operatedAt - time)).toBeLessThanOrEqual(512 * 2 ** -53 * time);
  });

  test.each([0, 1, 2, 2_046, 2_047, 2_048])("sees a single sample that is not started, here sample %d", (place) => {
    for (const curve of ["iec-very-inverse", "iec-extremely-inverse", "ieee-very-inverse"] as const) {
      const setting: CurveSetting = { curve, reset: { form: "instantaneous" } };
      const record = new Float64Array(2_049).fill(1.5).fill(0.9, place, place + 1);
      const { travel } = operateInstantOfSamples(setting, record, { sampleRate: 1_000 });
      expect(travel).toBeCloseTo((2_048 - place) / 1_000 / operateTime(setting, 1.5), 14);
    }
  });

  const held: CurveSetting = { curve: "iec-inverse", startRatio: 1.2, ceilingMultiple: 10 };
  test.each([
    ["above a start of its own and up to its ceiling", held],
    ["with a floor and what comes last", { curve: "iec-extremely-inverse", minimumTime: 40, addedTime: 0.5 }],
    ["of a disk that runs back in pauses", { curve: "ieee-very-inverse" }],
    ["that resets after a time", { curve: "iec-inverse", reset: { form: "definite", time: 3 } }],
    ["that holds between dropout and start", { ...held, dropoutRatio: 0.9 }],
    ["of a law too steep for the table", { curve: { form: "inverse", k: 500, alpha: 5, c: 1 } }],
  ] as const)("%s gives what as many pieces give, pauses and multiples of exactly 1 included", (_what, setting) => {
    const record = wandering.slice(0, 12_001).map((multiple, i) => {
      if (i % 5_000 > 4_700) return 0.5;
      return i % 5_000 > 4_500 ? 1 : 1 + multiple / 20 + (i > 9_000 ? 14 : 0);
    });
    for (const sampleRate of [100, 1_000]) {
      const samples = operateInstantOfSamples(setting, record, { sampleRate });
      const pieces = operateInstant(
        setting,
        Array.from(record, (from) => ({ duration: 1 / sampleRate, from, to: from })),
      );
      expect(samples.operatedAt === undefined).toBe(pieces.operatedAt === undefined);
      const duration = record.length / sampleRate;
      expect(Math.abs((samples.operatedAt ?? 0) - (pieces.operatedAt ?? 0))).toBeLessThanOrEqual(1e-12 * duration);
      expect(Math.abs(samples.travel - pieces.travel)).toBeLessThanOrEqual(1e-11);
    }
  });

  test("of immense multiples moves at the constant rate", () => {
    for (const alpha of [0.5, 1, 2, 3]) {
      const curve = { form: "inverse", k: 1, alpha, c: 50 } as const;
      for (const immense of [1e77, 1e120, 1e300]) {
        const { operatedAt } = operateInstantOfSamples({ curve }, new Float64Array(20_001).fill(immense), {
          sampleRate: 400,
        });
        // Sample by sample: 20,000 additions, each to half a unit in the last place of a travel up to 1.
        expect(Math.abs((operatedAt ?? 0) - 50)).toBeLessThanOrEqual(50 * 20_000 * 2 ** -54);
      }
    }
  });

  test.each(curves)("of %s with a bad sample is refused by its place", (curve) => {
    for (const bad of [Number.NaN, -1, -30, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      for (const added of [{}, { ceilingMultiple: 20 }, { startRatio: 1.005 }]) {
        const record = wandering.slice().fill(bad, 15_000, 15_001);
        expect(
          problemsOf(() => operateInstantOfSamples({ curve, ...added }, record, { sampleRate: 1e9 })),
        ).toMatchObject([{ path: "multiples[15000]" }]);
      }
    }
  });

  test("is an array of numbers", () => {
    for (const [bad, path] of [
      [null, "multiples"],
      ["33", "multiples"],
      [[2, "3"], "multiples[1]"],
    ] as const) {
      expect(
        problemsOf(() => operateInstantOfSamples({ curve: "iec-inverse" }, bad as never, { sampleRate: 1 })),
      ).toMatchObject([{ path }]);
    }
  });
});
