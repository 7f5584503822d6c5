/** What a history does to travel: resets that are counted, images that cool, rounding over many pieces. */
import fc from "fast-check";
import {
  advance,
  type CurveSetting,
  operateInstant,
  operateInstantOfSamples,
  operateTime,
  type Piece,
  resetTime,
} from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { D, exactly, ulpsOff } from "../base/reference.js";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const constant = (multiple: number, duration: number): Piece => ({ duration, from: multiple, to: multiple });

describe("a thermal image that cools", () => {
  const images = fc.record({
    tau: between(1, 3600),
    coolingTau: between(1, 3600),
    multiplier: between(0.05, 10),
    release: between(0.1, 0.99),
    share: between(0, 0.99),
  });
  const settingOf = ({ tau, coolingTau, multiplier, release }: { [name in keyof typeof sample]: number }) =>
    ({ curve: { form: "thermal", tau, coolingTau }, multiplier, reset: { form: "cooling", release } }) as const;
  const sample = { tau: 600, coolingTau: 1200, multiplier: 2, release: 0.5, share: 0 };

  test("is at its release after its reset time, whatever the multiplier", () => {
    // Without current half the level is left after 2 · 1200 · ln 2.
    expect(resetTime(settingOf(sample), 0)).toBeCloseTo(2400 * Math.LN2, 10);
    holds(
      fc.property(images, (image) => {
        const multiple = image.share * Math.sqrt(image.release);
        const setting = settingOf(image);
        const { travel } = advance(setting, { elapsed: 0, travel: 1 }, { multiple, dt: resetTime(setting, multiple) });
        expect(Math.abs(travel - image.release)).toBeLessThan(1e-14);
      }),
    );
  });

  test("has its reset time to 4 units in the last place, also where it hardly comes below its release", () => {
    const close = fc.tuple(images, between(1, 15)).map(([image, digits]) => ({ ...image, share: 1 - 10 ** -digits }));
    holds(
      fc.property(fc.oneof(images, close), (image) => {
        const multiple = image.share * Math.sqrt(image.release);
        const { coolingTau, multiplier, release } = image;
        const square = exactly(multiple).pow(2);
        fc.pre(square.lt(exactly(release)));
        const quotient = new D(1).minus(square).div(exactly(release).minus(square));
        const exact = quotient.ln().times(exactly(coolingTau)).times(exactly(multiplier));
        expect(ulpsOff(resetTime(settingOf(image), multiple), exact)).toBeLessThanOrEqual(4);
      }),
      1000,
    );
  });
});

describe("a thermal image that heats", () => {
  const curve = { form: "thermal", tau: 600 } as const;
  const nearly = between(0.3, 15).map((digits) => 1 + 10 ** -digits);

  test("operates at its operate time down to the multiples beside 1", () => {
    holds(
      fc.property(nearly, (multiple) => {
        const time = operateTime({ curve }, multiple);
        const { operatedAt = 0 } = operateInstant({ curve }, [constant(multiple, 1e6)]);
        expect(Math.abs(operatedAt - time)).toBeLessThanOrEqual(1e-15 * time);
      }),
    );
  });

  test("loses no more than tau · 7e-16/(M² − 1) with each piece", () => {
    holds(
      fc.property(nearly, between(0.01, 0.99), fc.integer({ min: 1, max: 50 }), (multiple, share, count) => {
        const time = operateTime({ curve }, multiple);
        const pieces = Array.from({ length: count }, () => constant(multiple, (share * time) / count));
        const { operatedAt = 0 } = operateInstant({ curve }, [...pieces, constant(multiple, time)]);
        const lost = (count * 600 * 7e-16) / ((multiple - 1) * (multiple + 1));
        expect(Math.abs(operatedAt - time)).toBeLessThanOrEqual(lost + 1e-14 * time);
      }),
    );
  });

  test("has the travel 1 once it operated; held back by its start it says how warm it is", () => {
    for (const pieces of [[constant(2, 2000)], [constant(2, 2000), constant(0, 100)]])
      expect(operateInstant({ curve }, pieces).travel).toBe(1);
    const samples = (setting: CurveSetting, multiple: number) =>
      operateInstantOfSamples(setting, new Float64Array(1000).fill(multiple), { sampleRate: 0.01 });
    expect(samples({ curve }, 2).travel).toBe(1);
    // Warm throughout after a thousand tau: the level is M².
    const late = { curve, startRatio: 1.2 };
    expect(operateInstant(late, [constant(1.15, 6e5)])).toEqual({ travel: expect.closeTo(1.3225, 14) });
    expect(samples(late, 1.15)).toEqual({ travel: expect.closeTo(1.3225, 14) });
  });
});

describe("a function that starts at nothing", () => {
  // 10 s at the multiple 1: 9 s of them are 0.9 of the travel.
  const points = [
    { multiple: 0.5, time: 40 },
    { multiple: 1, time: 10 },
    { multiple: 2, time: 2.5 },
  ];
  const curves = [{ form: "energy", k: 10 } as const, { form: "table", points } as const];
  const operatedAfter = (setting: CurveSetting, pause: number) =>
    operateInstant(setting, [constant(1, 9), constant(0, pause), constant(1, 20)]).operatedAt;

  test.each(curves)("resets where there is nothing, as its setting says: $form", (curve) => {
    const definite: CurveSetting = { curve, reset: { form: "definite", time: 5 } };
    expect(operatedAfter(definite, 4.9)).toBeCloseTo(9 + 4.9 + 1, 12);
    expect(operatedAfter(definite, 5)).toBeCloseTo(9 + 5 + 10, 12);
    // A disk of 20 s gives back a fifth in 4 s.
    const disk: CurveSetting = { curve, reset: { form: "disk", time: 20 } };
    expect(operatedAfter(disk, 4)).toBeCloseTo(9 + 4 + 3, 12);
    expect(operatedAfter({ curve }, 0.1)).toBeCloseTo(9 + 0.1 + 10, 12);
    expect([definite, disk, { curve }].map((setting) => resetTime(setting, 0))).toEqual([5, 20, 0]);
  });

  test.each(curves)("and with a start of its own below that, not within the dropout: $form", (curve) => {
    const late: CurveSetting = { curve, startRatio: 0.9, dropoutRatio: 0.5, reset: { form: "definite", time: 5 } };
    expect(resetTime(late, 0.44)).toBe(5);
    expect(resetTime(late, 0.46)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("a reset time", () => {
  const setting: CurveSetting = {
    curve: "iec-very-inverse", // 6.75 s at 3 times the setting
    dropoutRatio: 0.9,
    reset: { form: "definite", time: 2 },
  };
  /** 1.5 s below the dropout, 0.3 s between dropout and start, and below it again. */
  const history = (last: number) => [constant(3, 3), constant(0.5, 1.5), constant(0.95, 0.3), constant(0.5, last)];

  test("goes on between dropout and start, once it has let go", () => {
    expect(operateInstant(setting, history(0.1)).travel).toBeCloseTo(3 / 6.75, 14);
    expect(operateInstant(setting, history(0.3)).travel).toBe(0);
    expect(operateInstant(setting, [constant(3, 3), constant(0.5, 1.5), constant(0.95, 1)]).travel).toBe(0);
  });

  test("begins anew with each start", () => {
    const again = (last: number) => [constant(3, 3), constant(0.5, 1.5), constant(1.5, 0.27), constant(0.5, last)];
    expect(operateInstant(setting, again(1.9)).travel).toBeCloseTo(3 / 6.75 + 0.27 / 27, 14);
    expect(operateInstant(setting, again(2)).travel).toBe(0);
  });

  test("of a disk too: held while started, back once it has let go", () => {
    const disk: CurveSetting = { ...setting, reset: { form: "disk", time: 10 } };
    expect(operateInstant(disk, [constant(3, 3), constant(0.95, 100)]).travel).toBeCloseTo(3 / 6.75, 14);
    const back = operateInstant(disk, [constant(3, 3), constant(0.5, 1), constant(0.95, 2)]).travel;
    expect(back).toBeCloseTo(3 / 6.75 - (1 * 0.75) / 10 - (2 * 0.0975) / 10, 14);
  });

  test("does so sample by sample, and in the states that are handed on", () => {
    const samplesOf = (pieces: readonly Piece[]) =>
      pieces.flatMap(({ duration, from }) => new Array<number>(Math.round(duration * 10)).fill(from));
    const ofSamples = (last: number) =>
      operateInstantOfSamples(setting, samplesOf(history(last)), { sampleRate: 10 }).travel;
    expect(ofSamples(0.1)).toBeCloseTo(3 / 6.75, 14);
    expect(ofSamples(0.3)).toBe(0);
    let state = { elapsed: 0, travel: 0 };
    const seen = history(0.1).map(({ duration, from }) => {
      state = advance(setting, state, { multiple: from, dt: duration });
      return (state as { released?: number }).released;
    });
    expect(seen).toEqual([undefined, 1.5, 1.8, expect.closeTo(1.9, 14)]);
  });
});

describe("a zero with a sign", () => {
  test("in a definite time is a time like 0", () => {
    const pieces = [{ duration: 1, from: 0, to: 3 }];
    // It starts after a third of a second, and is there.
    expect(operateInstant({ curve: { form: "definite", time: -0 } }, pieces).operatedAt).toBeCloseTo(1 / 3, 15);
  });

  test("in a state does not come out again", () => {
    const state = { elapsed: -0, travel: -0, started: -0, released: -0, operatedAt: -0 };
    for (const value of Object.values(advance({ curve: "iec-inverse" }, state, { multiple: 0.95, dt: 1e-3 })))
      expect(Object.is(value, -0)).toBe(false);
    const held: CurveSetting = { curve: "iec-inverse", dropoutRatio: 0.9 };
    expect(advance(held, { elapsed: 0, travel: -0 }, { multiple: 0.95, dt: 1 })).toEqual({ elapsed: 1, travel: 0 });
  });
});

describe("absurd magnitudes", () => {
  const numbers = (value: unknown): number[] =>
    typeof value === "number" ? [value] : Object.values((value ?? {}) as object).flatMap(numbers);
  const thermal = { form: "thermal", tau: 600 } as const;
  const rows: readonly (readonly [string, CurveSetting, readonly Piece[]])[] = [
    ["a multiple whose square no double holds", { curve: thermal }, [constant(1e160, 1), constant(0, 1)]],
    [
      "a ramp between the largest doubles",
      { curve: "ieee-very-inverse" },
      [{ duration: 3.6, from: 1e308, to: 1.7e308 }],
    ],
    [
      "a time constant beyond the doubles",
      { curve: { form: "thermal", tau: 1e308 }, multiplier: 51 },
      [constant(2, 1)],
    ],
    ["a start there", { curve: "iec-inverse", startRatio: 1e308 }, [{ duration: 1, from: 1.7e308, to: 3 }]],
  ];
  test.each(rows)("stay numbers: %s", (_what, setting, pieces) => {
    const found = [operateInstant(setting, pieces)] as unknown[];
    const samples = pieces.map(({ from }) => from);
    found.push(operateInstantOfSamples(setting, samples, { sampleRate: 1 }));
    for (const { duration, from, to } of pieces)
      found.push(advance(setting, { elapsed: 0, travel: 1.5 }, { multiple: from, to, dt: duration }));
    expect(numbers(found).every(Number.isFinite)).toBe(true);
  });

  test("a ramp between the largest doubles takes the constant part of the time: 0.491 s", () => {
    const pieces = [{ duration: 3.6, from: 1e308, to: 1.7e308 }];
    expect(operateInstant({ curve: "ieee-very-inverse" }, pieces).operatedAt).toBeCloseTo(0.491, 14);
  });

  test("times whose sums no double holds are refused", () => {
    const setting: CurveSetting = { curve: "iec-inverse" };
    const path = (work: () => unknown) => problemsOf(work).map((problem) => [problem.path, problem.code]);
    const long = [constant(0, 1e308), constant(0, 1.7e308), constant(2, 1), constant(2, 1e308)];
    for (const count of [2, 3, 4])
      expect(path(() => operateInstant(setting, long.slice(0, count)))).toEqual([["pieces", "out-of-range"]]);
    const added: CurveSetting = { curve: "iec-inverse", addedTime: 1.7e308, minimumTime: 1e308 };
    expect(path(() => operateInstant(added, [constant(2, 1.2e308)]))).toEqual([["pieces", "out-of-range"]]);
    for (const state of [{ elapsed: 1e308 }, { elapsed: 0, started: 1e308 }])
      expect(path(() => advance(setting, { travel: 0, ...state }, { multiple: 2, dt: 1.7e308 }))).toEqual([
        ["step.dt", "out-of-range"],
      ]);
  });
});
