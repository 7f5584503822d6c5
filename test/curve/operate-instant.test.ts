/** The integral over time. */
import fc from "fast-check";
import {
  advance,
  type CurveSetting,
  operateInstant,
  operateInstantOfSamples,
  operateTime,
  type Piece,
} from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between, multiples, overSettings } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const constant = (multiple: number, duration: number): Piece => ({ duration, from: multiple, to: multiple });
const instant = (setting: CurveSetting, ...pieces: Piece[]): number =>
  operateInstant(setting, pieces).operatedAt ?? Number.NaN;
const close = (actual: number, expected: number, relative = 1e-12) =>
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));

/** 13.5/(M − 1) s: travel is (M − 1)/13.5 a second, so that everything can be done by hand. */
const very: CurveSetting = { curve: "iec-very-inverse" };

describe("the operate instant", () => {
  test("of a constant multiple is the operate time, with everything the setting adds", () => {
    const setting = fc.record({
      base: overSettings,
      minimumTime: between(0, 2),
      addedTime: between(0, 1),
      ceilingMultiple: between(3, 30),
    });
    holds(
      fc.property(setting, multiples, ({ base, ...added }, multiple) => {
        const full = { ...base, ...added };
        const time = operateTime(full, multiple);
        close(instant(full, constant(multiple, 2 * time)), time, 1e-13);
        expect(
          operateInstant(full, [constant(multiple, Math.max(1e-9, (time - full.addedTime) * 0.999))]).operatedAt,
        ).toBeUndefined();
      }),
    );
  });

  test("does not move when a piece is cut in two", () => {
    const cut = fc.record({
      from: between(0.2, 20),
      to: between(0.2, 20),
      share: between(0.01, 0.99),
      duration: between(0.1, 100),
    });
    holds(
      fc.property(overSettings, cut, (setting, { from, to, share, duration }) => {
        const middle = from + (to - from) * share;
        const whole = operateInstant(setting, [{ duration, from, to }]);
        const parts = operateInstant(setting, [
          { duration: duration * share, from, to: middle },
          { duration: duration * (1 - share), from: middle, to },
        ]);
        expect(Math.abs(parts.travel - whole.travel)).toBeLessThan(1e-10);
        if (whole.operatedAt !== undefined && parts.operatedAt !== undefined)
          close(parts.operatedAt, whole.operatedAt, 1e-9);
      }),
      300,
    );
  });

  test("of a ramp from the setting is that of the closed form: √(2·k/rate) for 1 + rate·t", () => {
    holds(
      fc.property(between(0.01, 10), (rate) => {
        close(instant(very, { duration: 1000, from: 1, to: 1 + 1000 * rate }), Math.sqrt((2 * 13.5) / rate));
      }),
    );
  });

  test("of a ramp that crosses the setting is later by the time of the crossing", () => {
    close(instant(very, { duration: 1000, from: 0.5, to: 0.5 + 500 }), 1 + Math.sqrt(54));
  });

  test("of a flat top is held by the ceiling, whose rate the ramp keeps beyond it", () => {
    // Up to 20 × in 19 s the travel is 19²/(2 · 13.5) > 1 already; with k tenfold 13.37 of 135 remain at 19/135 a second.
    const slow: CurveSetting = { curve: { form: "inverse", k: 1350, alpha: 1, c: 0 }, ceilingMultiple: 20 };
    const before = (19 * 19) / (2 * 1350);
    close(instant(slow, { duration: 1000, from: 1, to: 1001 }), 19 + (1 - before) / (19 / 1350));
  });

  test("keeps its floor counted from the start, and adds what comes last", () => {
    const setting = { ...very, minimumTime: 3, addedTime: 0.5 };
    close(instant(setting, constant(0.5, 10), constant(100, 10)), 10 + 3 + 0.5);
  });

  test("never comes where nothing starts", () => {
    expect(operateInstant(very, [constant(1, 1e6)])).toEqual({ travel: 0 });
    expect(operateInstant(very, [])).toEqual({ travel: 0 });
  });

  test("of under functions follows the voltage down: ∫ (1 − V) dt reaches 1", () => {
    // 1 − V = t/10 reaches 1 at t²/20 = 1, the voltage still above 0
    close(instant({ curve: "undervoltage-inverse" }, { duration: 10, from: 1, to: 0 }), Math.sqrt(20));
  });

  test("of V/Hz laws with broken powers is right from the setting on", () => {
    // ∫ (t/100)^1.5 dt = 2/5 · t^2.5/1000 = 10
    const setting: CurveSetting = { curve: { form: "excess", k: 10, power: 1.5 } };
    close(instant(setting, { duration: 1000, from: 1, to: 11 }), 25000 ** 0.4, 1e-11);
  });

  test("of an energy curve knows its longest time: slow below the kink, M² beyond", () => {
    const curve = { form: "energy", k: 1000, maximumTime: 100 } as const; // kink at √10
    const rate = 1 / 10; // multiples a second
    const kink = Math.sqrt(10) / rate;
    const atKink = kink / 100;
    expect(atKink).toBeLessThan(1);
    const beyond = ((1 - atKink) * 1000 * 3 * rate + 10 ** 1.5) ** (1 / 3) / rate;
    close(instant({ curve }, { duration: 1000, from: 0, to: 100 }), beyond);
  });
});

describe("reset", () => {
  const half = constant(3, 13.5 / 2 / 2); // half the travel
  test.each([
    ["at once", { form: "instantaneous" }, 0],
    ["after its time", { form: "definite", time: 2 }, 0],
    ["not before its time", { form: "definite", time: 2.001 }, 0.5],
    // 2 s of (1 − 0.25)/10 of the travel a second
    ["like a disk", { form: "disk", time: 10 }, 0.5 - 0.15],
    ["like a disk, never below zero", { form: "disk", time: 1 }, 0],
  ] as const)("%s", (_what, reset, travel) => {
    expect(operateInstant({ ...very, reset }, [half, constant(0.5, 2)]).travel).toBeCloseTo(travel, 14);
  });

  test("holds between dropout and start", () => {
    const setting: CurveSetting = { ...very, dropoutRatio: 0.9 };
    expect(operateInstant(setting, [half, constant(0.95, 100)]).travel).toBeCloseTo(0.5, 14);
    expect(operateInstant(setting, [half, constant(0.89, 0.01)]).travel).toBe(0);
  });

  test("in a ramp begins where the ramp falls below the dropout", () => {
    // A disk with t_r = 10 s: from 1 down to 0 in 6 s the mean of 1 − M² is 2/3, so that it loses 0.4
    const setting: CurveSetting = { ...very, reset: { form: "disk", time: 10 } };
    const gained = 0.5 + (0.5 * 2 * 12) / 13.5; // half, and the triangle from 3 down to 1 in 12 s
    expect(
      operateInstant({ ...setting, curve: { form: "inverse", k: 135, alpha: 1, c: 0 } }, [
        { duration: 18, from: 3, to: 0 },
      ]).travel,
    ).toBeCloseTo(12 / 135 - Math.min(12 / 135, 0.4), 14);
    expect(gained).toBeGreaterThan(1);
  });

  test("several pickups in one history add up with what the disk keeps", () => {
    const setting: CurveSetting = { ...very, reset: { form: "disk", time: 20 } };
    // Each shot gains 0.4 in 2.7 s at 3 ×, each pause of 2 s without current loses 0.1: full within the third shot
    const shots = [constant(3, 2.7), constant(0, 2), constant(3, 2.7), constant(0, 2), constant(3, 2.7)];
    close(instant(setting, ...shots), 2 * 4.7 + (1 - 0.6) * 6.75);
  });
});

describe("the same history in other forms", () => {
  test("small steps give what pieces give", () => {
    const setting: CurveSetting = { ...very, reset: { form: "disk", time: 10 }, dropoutRatio: 0.95 };
    const history = [constant(4, 1), constant(0.5, 2), constant(2, 30)];
    let state = { elapsed: 0, travel: 0 };
    for (const { duration, from } of history) {
      for (let i = 0; i < 1000; i++) state = advance(setting, state, { multiple: from, dt: duration / 1000 });
    }
    close((state as { operatedAt?: number }).operatedAt ?? 0, instant(setting, ...history), 1e-10);
  });

  test("samples give what as many pieces give, for curves with a kernel and without, with pauses and repeated starts", () => {
    const value = fc.oneof(between(0, 1.2), between(1, 30));
    const runs = fc.array(fc.tuple(value, fc.integer({ min: 1, max: 400 })), { minLength: 1, maxLength: 6 });
    const setting = fc.oneof(
      overSettings,
      fc.constant<CurveSetting>({ curve: "ieee-very-inverse", multiplier: 0.5, startRatio: 1.1, dropoutRatio: 0.9 }),
      fc.constant<CurveSetting>({ curve: "iec-inverse", ceilingMultiple: 20, minimumTime: 0.3, addedTime: 0.1 }),
    );
    holds(
      fc.property(setting, runs, (tried, list) => {
        const samples = list.flatMap(([multiple, count]) => new Array<number>(count).fill(multiple));
        const ofSamples = operateInstantOfSamples(tried, samples, { sampleRate: 100 });
        const ofPieces = operateInstant(
          tried,
          samples.map((multiple) => constant(multiple, 0.01)),
        );
        expect(ofSamples.operatedAt === undefined).toBe(ofPieces.operatedAt === undefined);
        if (ofPieces.operatedAt !== undefined) close(ofSamples.operatedAt ?? 0, ofPieces.operatedAt, 1e-11);
        expect(Math.abs(ofSamples.travel - ofPieces.travel)).toBeLessThan(1e-11);
      }),
      100,
    );
  });

  test("a long record keeps its digits: a million samples at one multiple end where the equation says", () => {
    const multiple = 1.0000135; // 13.5/(M − 1) = 1e6 s
    const samples = new Float64Array(1_000_001).fill(multiple);
    const { operatedAt = 0 } = operateInstantOfSamples(very, samples, { sampleRate: 1 });
    close(operatedAt, operateTime(very, multiple), 1e-13);
  });
});

test("what does not operate has no instant, not even one that is undefined", () => {
  expect(Object.keys(operateInstant(very, [constant(3, 1)]))).toEqual(["travel"]);
});

describe("a thermal image over time", () => {
  const curve = { form: "thermal", tau: 600, coolingTau: 1200 } as const;

  test("operates at its operate time, cold and preloaded", () => {
    close(instant({ curve }, constant(2, 1000)), operateTime({ curve }, 2), 1e-13);
    const warm = advance({ curve }, { elapsed: 0, travel: 0.64 }, { multiple: 2, dt: 1000 });
    close(warm.operatedAt ?? 0, operateTime({ curve }, 2, { preload: 0.8 }), 1e-13);
  });

  test("cools with its own constant: half way to the new level in coolingTau · ln 2", () => {
    const cooled = advance({ curve }, { elapsed: 0, travel: 0.9 }, { multiple: 0.3, dt: 1200 * Math.LN2 });
    expect(cooled.travel).toBeCloseTo(0.09 + (0.9 - 0.09) / 2, 14);
  });

  test("operates as long after a beginning without current", () => {
    close(instant({ curve }, constant(0, 100), constant(2, 1000)), 100 + operateTime({ curve }, 2), 1e-13);
  });

  test("is not stepped through ramps", () => {
    expect(problemsOf(() => operateInstant({ curve }, [{ duration: 1, from: 1, to: 2 }]))).toMatchObject([
      { path: "pieces[0].to" },
    ]);
  });
});

test.each([
  ["no list", 3, "pieces"],
  ["no piece", [null], "pieces[0]"],
  ["no duration", [{ from: 1, to: 1 }], "pieces[0].duration"],
  ["a negative multiple", [{ duration: 1, from: -1, to: 1 }], "pieces[0].from"],
])("%s is refused by its place", (_what, pieces, path) => {
  expect(problemsOf(() => operateInstant(very, pieces as never))[0]?.path).toBe(path);
});
