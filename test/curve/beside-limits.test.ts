/** Right beside where a function starts, ends or is held back; and what two relays, samples and times refuse. */
import fc from "fast-check";
import {
  advance,
  type CurveSetting,
  coordinationMargin,
  multipleForTime,
  multiplierForTime,
  operateInstant,
  operateInstantOfSamples,
  operateTime,
  resetTime,
  timeBand,
} from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const very = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
const relay = { setting: very, pickup: 4, ct: { primary: 400, secondary: 5 } };

describe("two relays are refused by place, unit and all", () => {
  const current = "a current above 0 A";
  test.each<readonly [object, string, string, string]>([
    [{ upstream: { ...relay, ct: 80 } }, "upstream.ct", "wrong-type", "a ratio { primary, secondary }"],
    [{ upstream: { ...relay, pickup: 0 } }, "upstream.pickup", "out-of-range", current],
    [{ downstream: { ...relay, ct: { primary: 0, secondary: 5 } } }, "downstream.ct.primary", "out-of-range", current],
    [
      { downstream: { ...relay, ct: { primary: 5, secondary: 0 } } },
      "downstream.ct.secondary",
      "out-of-range",
      current,
    ],
    [
      { upstream: { ...relay, setting: { curve: "undervoltage-inverse" } } },
      "upstream.setting.curve",
      "not-applicable",
      "the curve of an over function",
    ],
    [{ required: -1 }, "required", "out-of-range", "a margin of 0 s or more"],
    [{ currents: [0] }, "currents[0]", "out-of-range", current],
    [{ currents: { from: 0, to: 9 } }, "currents.from", "out-of-range", current],
    [{ currents: { from: 900, to: 800 } }, "currents.to", "out-of-range", "a current of 900 A or more"],
    [{ currents: { from: 900, upTo: 1800 } }, "currents.upTo", "unknown-key", "one of from, to"],
  ])("%j", (change, path, code, expected) => {
    const two = { upstream: relay, downstream: relay, currents: [2000], required: 0.3, ...change };
    expect(problemsOf(() => coordinationMargin(two as never))).toMatchObject([{ path, code, expected }]);
  });
});

test.each<readonly [() => unknown, string, string, string]>([
  [
    () => operateInstantOfSamples(very, [3], { sampleRate: 0 }),
    "sampleRate",
    "out-of-range",
    "a sampling rate above 0 Hz",
  ],
  [() => multipleForTime(very, 0), "seconds", "out-of-range", "an operate time above 0 s"],
  [() => multiplierForTime(very, { multiple: 3, time: 0 }), "time", "out-of-range", "an operate time above 0 s"],
  [
    () => resetTime({ ...very, reset: { form: "disk" } }, 0),
    "reset.time",
    "missing",
    "a reset time in s, as the curve has none",
  ],
  [
    () => resetTime({ curve: { form: "thermal", tau: 600 }, reset: { form: "cooling", release: 0 } }, 0),
    "reset.release",
    "out-of-range",
    "a share of the thermal level at which it operates above 0",
  ],
  [
    () => resetTime({ curve: { form: "thermal", tau: 600 } }, 0),
    "reset",
    "missing",
    '{ form: "cooling", release }, as the curve is thermal',
  ],
  [
    () => operateTime({ curve: { form: "table", points: [{ multiple: 2, time: 1 }] } }, 2),
    "curve.points",
    "wrong-length",
    "two points or more",
  ],
  [
    () => timeBand(very, 1, { form: "constant", percent: 5 }),
    "multiple",
    "out-of-range",
    "a multiple at which the function operates",
  ],
])("%s is told with its place", (work, path, code, expected) => {
  expect(problemsOf(work)).toMatchObject([{ path, code, expected }]);
});

test("the time right beside a start of its own has a multiple there, on the side on which it operates", () => {
  const check = (setting: CurveSetting, start: number, side: 1 | -1) => {
    const multiple = start * (1 + side * Number.EPSILON);
    const time = operateTime(setting, multiple);
    const found = multipleForTime(setting, time);
    if (found.kind === "none") throw new Error(found.reason);
    expect(side * (found.multiple - start)).toBeGreaterThan(0);
    expect(Math.abs(operateTime(setting, found.multiple) / time - 1)).toBeLessThanOrEqual(8 * Number.EPSILON);
  };
  holds(
    fc.property(fc.integer({ min: 1001, max: 3000 }), (start) => {
      const startRatio = start / 1000;
      check({ curve: "iec-inverse", startRatio }, startRatio, 1);
      check({ ...very, startRatio }, startRatio, 1);
      check({ curve: "undervoltage-inverse", startRatio: 1 / startRatio }, 1 / startRatio, -1);
    }),
    500,
  );
});

describe("what is held back", () => {
  test("by a floor, counts from the start also while it is held between dropout and start", () => {
    const setting = { ...very, dropoutRatio: 0.9, minimumTime: 5 };
    const at = (multiple: number, duration: number) => ({ duration, from: multiple, to: multiple });
    // At 10 × it is there after 0.3 s; started for 1 + 2 s, it waits for the other 2 of its 5 s.
    expect(operateInstant(setting, [at(10, 1), at(0.95, 2), at(10, 9)]).operatedAt).toBeCloseTo(5, 12);
    const held = advance(setting, advance(setting, { elapsed: 0, travel: 0 }, { multiple: 10, dt: 1 }), {
      multiple: 0.95,
      dt: 2,
    });
    expect(held).toEqual({ elapsed: 3, travel: 1, started: 3, lost: undefined });
  });

  test("by what comes last, of a thermal image too: ln((4 − level)/3) time constants after the half load", () => {
    const setting: CurveSetting = { curve: { form: "thermal", tau: 600 }, addedTime: 2 };
    const load = { duration: 600, from: 0.5, to: 0.5 };
    const level = 0.25 * (1 - Math.exp(-1));
    const wait = 600 * Math.log((4 - level) / 3);
    expect(operateInstant(setting, [load, { duration: 500, from: 2, to: 2 }]).operatedAt).toBeCloseTo(602 + wait, 9);
    // Off a second before that it does not operate.
    const off = [load, { duration: wait - 1, from: 2, to: 2 }, { duration: 500, from: 0, to: 0 }];
    expect(operateInstant(setting, off).operatedAt).toBeUndefined();
  });
});

test("an under law of one's own constants is undone, exponent and constant part and all", () => {
  const constants = fc.record({
    k: fc.double({ min: 0.1, max: 10, noNaN: true }),
    alpha: fc.double({ min: 0.3, max: 3, noNaN: true }),
    c: fc.double({ min: 0.01, max: 2, noNaN: true }),
  });
  holds(
    fc.property(constants, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (own, multiple) => {
      const setting = { curve: { form: "under", ...own } } as const;
      const found = multipleForTime(setting, operateTime(setting, multiple));
      expect(found).toEqual({ kind: "found", multiple: expect.closeTo(multiple, 9) });
    }),
  );
});
