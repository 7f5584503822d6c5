/**
 * What the contact of a sweep, the healthy system before and the way an element looks say of a relay that is set otherwise:
 * predictions are held against rehearsals, which share no line with them.
 */
import fc from "fast-check";
import { explain } from "tripwright/explain";
import { type Check, plan, settingsOf } from "tripwright/plan";
import { type Explanation, judge, type Reading } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { leastMisfit } from "../../src/explain/fit.js";
import { predict } from "../../src/explain/predict.js";
import { AS_WRITTEN } from "../../src/explain/situation.js";
import { takenAt } from "../../src/explain/taken.js";
import { holds } from "../support/holds.js";
import {
  differential87T,
  directional67,
  distance21,
  dyn11,
  read,
  underfrequency81,
  undervoltage27,
  usual,
} from "../support/sheets.js";

type State = Check["timeline"]["segments"][number]["channels"][string];

interface Element {
  readonly id: string;
  readonly [field: string]: unknown;
}

const fast50 = { id: "50P", function: "50", pickup: "12 A", delay: "0.4 s", dropoutRatio: 0.95, accuracy: usual };
/** So high that its sweep rests between the levels. */
const high50 = { ...fast50, pickup: "40 A" };
const rate81 = {
  id: "81R",
  function: "81R",
  direction: "falling",
  pickup: "1 Hz/s",
  delay: "0.3 s",
  accuracy: { pickup: { absolute: "0.05 Hz/s" }, time: { percent: 5, absolute: "40 ms" } },
};
const sharp27 = { ...undervoltage27, accuracy: { ...usual, pickup: { percent: 1 } } };
const power32 = { id: "32", function: "32", pickup: "20 W", delay: "2 s", operates: "reverse", accuracy: usual };
const flux24 = {
  id: "24",
  function: "24",
  watches: "line-to-line",
  pickup: "110 %",
  curve: { form: "excess", k: 0.2, power: 2 },
  startContact: "start V/Hz",
  accuracy: { ...usual, pickup: { percent: 1 } },
};

/** What is predicted of a relay that is set otherwise, beside what it does. */
function predictedAndRead(onSheet: Element, inRelay: Element) {
  const sheet = read([onSheet]);
  const really = read([inRelay]);
  const planned = plan(sheet);
  const [setting] = settingsOf(really).elements;
  const situation = { ...AS_WRITTEN, setting: () => setting as NonNullable<typeof setting> };
  const record = judge(sheet, planned, rehearsePlan(really, planned));
  return takenAt("as-found", record, settingsOf(sheet)).map((taken) => ({
    check: taken.key.check,
    step: taken.check.sweep?.step ?? 0,
    read: taken.value,
    predicted: predict(taken, situation),
  }));
}

/** To a step of the sweep and a rounding of the time. */
function agrees({ step, read: told, predicted }: ReturnType<typeof predictedAndRead>[number]): boolean {
  if (typeof told !== "number" || typeof predicted !== "number") return told === predicted;
  return Math.abs(told - predicted) <= 1.001 * step + 1e-9 * told;
}

/** What is told of a relay that has other settings than the sheet. */
function told(onSheet: Element, inRelay: Element) {
  const sheet = read([onSheet]);
  const planned = plan(sheet);
  return explain(judge(sheet, planned, rehearsePlan(read([inRelay]), planned)));
}

const leading = (all: readonly Explanation[]) => all.filter((one) => one.leading).map(({ cause }) => cause);
const named = (all: readonly Explanation[], wanted: Explanation["cause"]) => all.find(({ cause }) => cause === wanted);

describe("a pickup that the trip contact shows", () => {
  test.each([
    ["12 A, step by step", fast50, 4],
    ["40 A, from rest", high50, 4],
    ["an undervoltage", sharp27, 12],
  ])("comes later by the levels that a longer delay takes: %s", (_, element, longest) => {
    // Levels stand for whole 10 ms: no contact closes at the very instant at which one begins.
    holds(
      fc.property(fc.integer({ min: 5, max: 100 * longest }), (hundredths) =>
        predictedAndRead(element, { ...element, delay: `${hundredths / 100 + 0.003} s` }).every(agrees),
      ),
      12,
    );
  });

  test("is never seen where every level rests before the delay is over", () => {
    const [pickup] = predictedAndRead(high50, { ...high50, delay: "1 s" });
    expect(pickup).toMatchObject({ check: "50P/pickup", read: "never", predicted: "never" });
  });

  test("and that is never seen, as the time is not, may be that of a delay that is too long", () => {
    // 1 s where 0.3 s stand on the sheet: no level of the sweep stands as long, and the time is given up after 0.74 s.
    const all = told(rate81, { ...rate81, delay: "1 s" });
    expect(leading(all)).toContain("delay-setting");
    expect(named(all, "delay-setting")).toMatchObject({ complete: true });
  });

  test("limits a delay that nobody has waited for", () => {
    const all = told(sharp27, { ...sharp27, delay: "4.5 s" });
    const { from = Number.NaN, to = Number.NaN } = named(all, "delay-setting")?.estimate ?? {};
    // Given up after 2.1 s. The sheet's 17 s would be ten levels of 0.1 V, more than a tolerance of 1 % allows.
    expect(from).toBeGreaterThan(1.6);
    expect(from).toBeLessThan(4.5);
    expect(to).toBeGreaterThan(4.5);
    expect(to).toBeLessThan(15);
  });
});

describe("an element that the healthy system has started before", () => {
  test.each([
    ["an undervoltage above the rated voltage, whose contact stands closed", sharp27, { ...sharp27, pickup: "150 V" }],
    ["volts per hertz below the rated, part of its way behind it", flux24, { ...flux24, pickup: "93.5 %" }],
  ])("%s: as it is rehearsed", (_, onSheet, inRelay) => {
    const all = predictedAndRead(onSheet, inRelay);
    expect(all.filter((one) => !agrees(one))).toEqual([]);
  });

  test("with the primary value entered, that is named, and leaves nothing unexplained", () => {
    const all = told(sharp27, { ...sharp27, pickup: "8800 V" });
    expect(leading(all)).not.toContain("unexplained");
    expect(named(all, "primary-for-secondary")).toMatchObject({ leading: true, complete: true });
  });
});

describe("an element that looks the other way", () => {
  test.each([
    ["21", distance21, "reverse"],
    ["32", power32, "forward"],
    ["67", directional67, "reverse"],
  ] as const)("%s: its direction is among what leads", (_, element, operates) => {
    const all = told(element, { ...element, operates });
    expect(named(all, "direction-setting")).toMatchObject({ leading: true, complete: true });
  });

  test("leaves the characteristic angle open around its opposite, and not all round", () => {
    // 45° + 180° = -135°; the sweeps of the limits begin 10° outside, where it had started already.
    const found = named(told(directional67, { ...directional67, operates: "reverse" }), "characteristic-angle");
    expect(found?.says).toMatch(/The readings leave it open between -145° and -125°\.$/);
    expect(found?.estimate?.value).toBeCloseTo(-135, 2);
  });
});

test("what would have kept an element quiet explains no number, however far off that is", () => {
  const sheet = read([
    { id: "46", function: "46", watches: "I2", pickup: "1 A", delay: "3 s", startContact: "start", accuracy: usual },
  ]);
  const at = (check: string, value: number): Reading => ({ check, value, stage: "as-found", repeat: 1 });
  const all = explain(judge(sheet, plan(sheet), [at("46/pickup", 1.5), at("46/time", 3)]));
  // With phases exchanged it would have seen no negative sequence at all.
  expect(leading(all)).toContain("pickup-setting");
  expect(named(all, "rotation-reversed")).toBeUndefined();
});

describe("what the readings leave open of a free number", () => {
  const free = { name: "x", unit: "s", from: 0, to: 10 };

  test("is a range beside the best one too, where chance does not tell it from that", () => {
    const misfit = (x: number) => (x < 2 ? 30 : x < 4 ? 3 : x < 6 ? 1 : x < 8 ? 4 : 9);
    const { x, open } = leastMisfit(misfit, free);
    expect(x).toBeCloseTo(5, 3);
    expect(open?.[0]).toBeCloseTo(2, 3);
    expect(open?.[1]).toBeCloseTo(8, 3);
  });

  test("of an angle goes on where it comes round", () => {
    const misfit = (x: number) => (Math.cos((x * Math.PI) / 180) < Math.cos((100 * Math.PI) / 180) ? 0 : 50);
    const { open } = leastMisfit(misfit, { name: "angle", unit: "°", from: -180, to: 180, turns: true });
    const [from, to] = open ?? [Number.NaN, Number.NaN];
    expect(to - from).toBeCloseTo(160, 2);
    expect(Math.abs(from)).toBeCloseTo(to > 180 ? 100 : 260, 2);
  });
});

test.each([
  ["50", fast50, { pickup: "13.44 A", delay: "0.5 s" }],
  ["27", sharp27, { pickup: "74.8 V", delay: "1.875 s" }],
])("of a %s a start at the very level of a definite time does not make that time another", (_, onSheet, change) => {
  // Two settings are wrong. The start alone explains the sweeps; the time is 25 % long wherever the start lies.
  const all = told(onSheet, { ...onSheet, ...change });
  expect(all[0]?.cause).toBe("unexplained");
  expect(all.filter(({ complete }) => complete)).toEqual([]);
});

describe("a function that lets go elsewhere than the sheet says", () => {
  test("is named with the ratio at which it was read", () => {
    // 0.91 lies beyond 3 % of 0.95, and is read on the way back within a step.
    const narrow = { ...fast50, accuracy: { ...usual, dropout: { percent: 3 } } };
    const all = told(narrow, { ...narrow, dropoutRatio: 0.91 });
    expect(named(all, "dropout-setting")).toMatchObject({ leading: true, complete: true });
    expect(Math.abs((named(all, "dropout-setting")?.estimate?.value ?? 0) - 0.91)).toBeLessThan(0.012);
  });

  test.each([
    [fast50, { dropoutRatio: 0.5 }, "where the sheet says 0.95 times its start"],
    [underfrequency81, { dropoutDifference: "0.3 Hz" }, "where the sheet says 0.02 Hz from its start"],
  ])("and where the sweep back ends before, that is said without a number", (onSheet, change, sheetSays) => {
    const all = told(onSheet, { ...onSheet, ...change });
    expect(named(all, "dropout-setting")).toMatchObject({ leading: true, complete: true });
    expect(named(all, "dropout-setting")?.says).toMatch(
      `The function may let go farther back than the level was brought, ${sheetSays}. The readings leave it open`,
    );
  });
});

test("a source that puts out less moves the lines of a differential zone with what restrains, and is named", () => {
  const sheet = read([differential87T], { ...dyn11, source: { maximumCurrent: "50 A", currentChannels: 6 } });
  const planned = plan(sheet);
  const less = (state: State): State => ({
    ...state,
    rms: 0.93 * state.rms,
    ...(state.harmonics && { harmonics: state.harmonics.map((one) => ({ ...one, rms: 0.93 * one.rms })) }),
  });
  const checks = planned.checks.map((check) => ({
    ...check,
    timeline: {
      ...check.timeline,
      segments: check.timeline.segments.map((segment) => ({
        ...segment,
        channels: Object.fromEntries(Object.entries(segment.channels).map(([name, state]) => [name, less(state)])),
      })),
    },
  }));
  const found = named(explain(judge(sheet, planned, rehearsePlan(sheet, { checks }))), "source-gain");
  expect(found).toMatchObject({ leading: true, complete: true });
  expect(Math.abs((found?.estimate?.value ?? 0) - 0.93)).toBeLessThan(0.01);
});
