import fc from "fast-check";
import { inputsOf, operateTimeOf } from "tripwright/element";
import { type Check, plan, type Sheet, settingsOf, sourceErrors, sourceErrorsOf } from "tripwright/plan";
import { judge } from "tripwright/record";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import {
  checkNamed,
  differential87T,
  distance21,
  dyn11,
  inverse51,
  read,
  sheets,
  synchronism25,
  usual,
} from "../support/sheets.js";

/** The standard uncertainty with which a reading of a check is judged. */
function uncertaintyOf(sheet: Sheet, check: string, value: number): number | undefined {
  const { verdicts } = judge(sheet, plan(sheet), [{ check, stage: "as-found", repeat: 1, value }]);
  const verdict = verdicts.find((one) => one.check === check);
  return verdict?.status === "graded" ? verdict.readings[0]?.uncertainty?.standard : undefined;
}

const withAccuracy = (element: object, accuracy: object, other: object = {}): Sheet =>
  read([element], { ...other, source: { accuracy } });

describe("a level that is made of several quantities of the source", () => {
  const e24 = {
    id: "24",
    function: "24",
    watches: "line-to-neutral",
    pickup: 1.1,
    delay: "2 s",
    accuracy: { pickup: { percent: 2 }, time: { percent: 5, absolute: "40 ms" } },
  };
  const voltage = { percent: 0.5 };
  const frequency = { absolute: "0.05 Hz" };
  const quietAt = (accuracy: object) => checkNamed(read([e24], { source: { accuracy } }), "24/quiet").level as number;

  test("stays away from the setting by what each of them may be off, the sum of both: 24 by hand", () => {
    // 1.1 − 2 % = 1.078; of that 0.5 %, and 1.078 − 1.078 · 50/50.05
    const [byVolts, byHertz] = [0.005 * 1.078, 1.078 * (1 - 50 / 50.05)];
    // Outwards to a tenth of a step, which is a fifth of the tolerance of 0.022.
    const fine = 0.022 / 5 / 10;
    for (const [accuracy, away] of [
      [{}, 0],
      [{ voltage }, byVolts],
      [{ frequency }, byHertz],
      [{ voltage, frequency }, byVolts + byHertz],
    ] as const) {
      const level = quietAt(accuracy);
      expect(level).toBeLessThanOrEqual(1.078 - away + 1e-12);
      expect(level).toBeGreaterThan(1.078 - away - fine - 1e-12);
    }
  });

  test("in the source's own unit is off by what the source is off: 1 % of 4 A", () => {
    const sheet = read([inverse51], { source: { accuracy: { current: { percent: 1 }, voltage } } });
    const putOut = {
      element: "51P",
      level: 4,
      channels: { ia: { rms: 4, frequency: 50 } },
      wiring: { ia: { quantity: "current", feeds: { ia: 1 } } },
    } as const;
    const [half, ...more] = sourceErrors(settingsOf(sheet), putOut);
    expect(half).toBeCloseTo(0.04, 14);
    expect(more).toEqual([]);
  });

  test("is judged with it: root of the sum of squares, as rectangles", () => {
    const sheet = read([e24], { source: { accuracy: { voltage, frequency } } });
    const planned = plan(sheet);
    const record = judge(sheet, planned, [{ check: "24/pickup", stage: "as-found", repeat: 1, value: 1.1 }]);
    const [verdict] = record.verdicts.filter((one) => one.check === "24/pickup");
    const used = verdict?.status === "graded" ? verdict.readings[0]?.uncertainty?.standard : undefined;
    // Up and down by 0.05 Hz, the mean of both.
    const byHertz = (1.1 * (50 / 49.95 - 50 / 50.05)) / 2;
    const byHand = Math.hypot(0.005 * 1.1, byHertz) / Math.sqrt(3);
    expect(Math.abs((used ?? 0) / byHand - 1)).toBeLessThan(1e-9);
  });
});

describe("a level that is made of several channels", () => {
  const residual59 = { ...usual, pickup: { absolute: "0.5 V" } };
  const e59N = { id: "59N", function: "59N", watches: "3V0", pickup: "10 V", delay: "1 s", accuracy: residual59 };
  const tenth = { voltage: { absolute: "0.1 V" } };

  test("is off by three times that of one, where three in phase are three times one: 10 V − 0.5 V − 0.3 V", () => {
    expect(checkNamed(withAccuracy(e59N, tenth), "59N/quiet").level).toBe(9.2);
    expect(uncertaintyOf(withAccuracy(e59N, tenth), "59N/pickup", 10)).toBeCloseTo(0.3 / Math.sqrt(3), 9);
  });

  test("is off by √3 times that of one between two lines, and by no more than the share of one in percent", () => {
    const e59 = { ...e59N, id: "59", function: "59", watches: "line-to-line", pickup: "130 V" };
    const settings = { ...usual, pickup: { percent: 2 } };
    const at = (accuracy: object) =>
      uncertaintyOf(withAccuracy({ ...e59, accuracy: settings }, accuracy), "59/pickup", 130);
    expect(at(tenth)).toBeCloseTo((Math.sqrt(3) * 0.1) / Math.sqrt(3), 9);
    expect(at({ voltage: { percent: 0.2 } })).toBeCloseTo((0.002 * 130) / Math.sqrt(3), 9);
  });

  test("is off by what either is, where it is their difference: a synchronism check", () => {
    const sheet = withAccuracy(synchronism25, { voltage: { percent: 0.2 }, frequency: { absolute: "5 mHz" } });
    const rated = 110 / Math.sqrt(3);
    const byVolts = Math.hypot(0.002 * rated, 0.002 * (rated + 5.4)) / Math.sqrt(3);
    for (const name of ["higher", "lower"])
      expect(uncertaintyOf(sheet, `25/edge@${name}`, 5.4)).toBeCloseTo(byVolts, 9);
    for (const name of ["faster", "slower"])
      expect(uncertaintyOf(sheet, `25/edge@${name}`, 0.1)).toBeCloseTo(Math.hypot(0.005, 0.005) / Math.sqrt(3), 9);
    // Both sides live at one voltage; a limit in degrees, of which a source says nothing.
    const live = withAccuracy({ ...synchronism25, liveAbove: "50 V" }, tenth);
    expect(uncertaintyOf(live, "25/edge@live", 50)).toBeCloseTo(0.1 / Math.sqrt(3), 9);
    expect(uncertaintyOf(sheet, "25/pickup", 20)).toBeUndefined();
    const dead = { ...synchronism25, liveAbove: "50 V", deadBelow: "10 V", deadClosing: "either" };
    expect(uncertaintyOf(withAccuracy(dead, tenth), "25/edge@dead-running", 10)).toBeCloseTo(0.1 / Math.sqrt(3), 9);
  });

  test("is off by what each current brings into difference and restraint: a line of two ends", () => {
    const line = {
      ...differential87T,
      id: "87L",
      function: "87",
      pickup: "0.3 A",
      secondHarmonic: undefined,
      slopes: [{ slope: "25 %", line: "through-origin" }],
    };
    const sheet = withAccuracy(line, { current: { percent: 0.5 } }, { ct: "400/1" });
    const check = checkNamed(sheet, "87L/edge@restraint-2");
    const nominal = check.expect.form === "band" ? check.expect.band.nominal : Number.NaN;
    // Restraint x = (i1 + i2)/2 and difference y = i1 − i2 = x/4: i1 = x · 9/8, i2 = x · 7/8.
    const x = 4 * nominal;
    const [first, second] = [(0.005 * 9 * x) / 8, (0.005 * 7 * x) / 8];
    const byHand = Math.hypot(first * (1 - 0.25 / 2), second * (1 + 0.25 / 2)) / Math.sqrt(3);
    expect(uncertaintyOf(sheet, check.id, nominal)).toBeCloseTo(byHand, 9);
  });

  test("is off by the same on places that mirror each other, and by about the same on levels beside each other", () => {
    const accuracy = { current: { absolute: "10 mA" }, voltage: { absolute: "0.1 V" } };
    const zone = withAccuracy(distance21, accuracy);
    const errors = (sheet: Sheet, check: Check, level: number) =>
      Math.hypot(...sourceErrorsOf(settingsOf(sheet), { check, level }));
    const loops = ["edge@BC-75°", "edge@CA-75°", "pickup"].map((name) =>
      errors(zone, checkNamed(zone, `21-1/${name}`), 4),
    );
    for (const one of loops) expect(one).toBeCloseTo(loops[0]!, 9);
    const transformer = withAccuracy(differential87T, { current: { percent: 0.5 } }, dyn11);
    const hertz = { frequency: { absolute: "5 mHz" } };
    for (const sheet of [zone, transformer, withAccuracy(synchronism25, { ...accuracy, ...hertz })]) {
      for (const check of plan(sheet).checks) {
        const { sweep, unit } = check;
        if (sweep === undefined || unit === "°") continue;
        const at = Array.from({ length: 21 }, (_, i) => sweep.from + ((sweep.to - sweep.from) * i) / 20);
        const all = at.map((level) => errors(sheet, check, level));
        for (const [i, one] of all.entries()) {
          expect(one).toBeGreaterThan(0);
          if (i > 0) expect(Math.abs(one / all[i - 1]! - 1)).toBeLessThan(0.1);
        }
      }
    }
  });

  test("counts what would cancel as if each erred by itself", () => {
    const sheet = withAccuracy(synchronism25, { frequency: { absolute: "5 mHz" } });
    const settings = settingsOf(sheet);
    const { wiring } = checkNamed(sheet, "25/edge@faster").timeline;
    const side = { rms: 63.5, frequency: 50 };
    const channels = Object.fromEntries(Object.keys(wiring).map((name) => [name, side]));
    const halves = sourceErrors(settings, { element: "25", edge: "faster", level: 0, channels, wiring });
    expect(halves).toHaveLength(1);
    expect(halves[0]).toBeCloseTo(Math.hypot(0.005, 0.005), 9);
  });

  test("goes by the place that a check says, whatever its name", () => {
    const sheet = withAccuracy(synchronism25, { frequency: { absolute: "5 mHz" } });
    const named = { ...checkNamed(sheet, "25/edge@faster"), id: "slip of the north breaker" };
    expect(named.edge).toBe("faster");
    expect(sourceErrorsOf(settingsOf(sheet), { check: named, level: 0.1 })).toEqual([0.005, 0.005]);
  });

  test("stays so far away that errors of its channels, each with its own sign, do not operate what is at its limit", () => {
    const [volt, ampere] = [0.05, 0.02];
    const accuracy = { current: { absolute: `${ampere} A` }, voltage: { absolute: `${volt} V` } };
    const signs = fc.array(fc.constantFrom(-1, 0, 1), { minLength: 9, maxLength: 9 });
    holds(
      fc.property(sheets, signs, (plain, sign) => {
        const sheet = { ...plain, source: { ...plain.source, accuracy } } as Sheet;
        const { elements } = settingsOf(sheet);
        for (const check of plan(sheet).checks) {
          const limit = check.because.numbers["limit"];
          if (check.proves !== "no-operation" || limit === undefined) continue;
          const setting = elements.find(({ id }) => id === check.element)!;
          const { wiring, segments } = check.timeline;
          const off = Object.entries(segments[1]!.channels).map(([name, state], i) => {
            const half = wiring[name]?.quantity === "current" ? ampere : volt;
            return [name, state.rms === 0 ? state : { ...state, rms: Math.max(0, state.rms + sign[i % 9]! * half) }];
          });
          const edge = limit / (setting.law.startRatio ?? 1);
          // The errors count as a straight line; a power and an impedance bend by a share of them.
          const bend = 0.05 * Math.abs((check.level ?? 0) - limit) + 1e-12 * edge;
          const pickup = edge + Math.sign(setting.pickup - edge) * bend;
          const inputs = inputsOf(Object.fromEntries(off), wiring);
          expect(operateTimeOf({ ...setting, pickup } as typeof setting, inputs)).toBe(Number.POSITIVE_INFINITY);
        }
      }),
      60,
    );
  });
});

test("a place that an element does not have, and a check of another sheet, are refused", () => {
  const sheet = withAccuracy(synchronism25, { voltage: { percent: 1 } });
  const settings = settingsOf(sheet);
  const check = checkNamed(sheet, "25/edge@higher");
  const putOut = { element: "25", level: 5, channels: {}, wiring: {} };
  expect(problemsOf(() => sourceErrors(settings, { ...putOut, edge: "highest" }))).toMatchObject([{ path: "edge" }]);
  expect(problemsOf(() => sourceErrorsOf(settings, { check: { ...check, element: "27" }, level: 5 }))).toMatchObject([
    { code: "unknown-name" },
  ]);
  expect(sourceErrorsOf(settingsOf(read([synchronism25])), { check, level: 5 })).toEqual([]);
});
