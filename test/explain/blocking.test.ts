/** A level that blocks or arms a function, set otherwise than the sheet says: against what follows by hand. */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { explain, nextInjection } from "tripwright/explain";
import { plan, readSheet, type Sheet, settingsOf } from "tripwright/plan";
import { type Explanation, judge, type Reading, readReadings } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { isHeldBack } from "../../src/explain/asked.js";
import { AS_WRITTEN } from "../../src/explain/situation.js";
import { type Taken, takenAt } from "../../src/explain/taken.js";
import { holds } from "../support/holds.js";
import { directional67, read } from "../support/sheets.js";

const accuracy = {
  pickup: { percent: 1 },
  time: { percent: 1, absolute: "40 ms" },
  dropout: { percent: 1 },
};
/** Timed at 0.8 · 88 V = 70.4 V. */
const under = {
  id: "27",
  function: "27",
  watches: "line-to-line",
  phases: "any",
  pickup: "88 V",
  dropoutRatio: 1.02,
  delay: "1.5 s",
  accuracy,
};
const blocked22 = { ...under, blockBelow: "22 V" };

const reading = (check: string, value: Reading["value"], more: Partial<Reading> = {}): Reading => ({
  check,
  value,
  stage: "as-found",
  repeat: 1,
  ...more,
});

const explained = (sheet: Sheet, readings: readonly Reading[], planned = plan(sheet)) =>
  explain(judge(sheet, planned, readings), { elements: "all" });

/** What is told of a relay that has other settings than the sheet. */
const told = (onSheet: object, inRelay: object) => {
  const sheet = read([onSheet]);
  return explained(sheet, rehearsePlan(read([inRelay]), plan(sheet)));
};

const leading = (all: readonly Explanation[]) => all.filter((one) => one.leading).map(({ cause }) => cause);
const named = (all: readonly Explanation[], wanted: Explanation["cause"]) => all.find(({ cause }) => cause === wanted);

describe("an undervoltage function that is blocked at the level at which it is timed", () => {
  const sheet = read([blocked22]);
  const planned = plan(sheet);
  const asFound = [reading("27/pickup", 87.9), reading("27/dropout", 89.8), reading("27/time", "never")];

  test("is blocked somewhere between that level, 70.4 V, and its pickup, 88 V, or waits for longer", () => {
    const all = explained(sheet, asFound);
    expect(leading(all)).toEqual(["delay-setting", "blocking-level"]);
    const blocking = named(all, "blocking-level");
    expect(blocking?.complete).toBe(true);
    // Half way between the two, since nothing says where.
    expect(blocking?.estimate?.value).toBeCloseTo(79.2, 2);
    expect(blocking?.estimate).toMatchObject({ name: "blocked below", unit: "V" });
    expect(blocking?.says).toBe(
      "The function may be blocked below about 79.2 V, where the sheet says 22 V. The readings leave it open between 70.4 V and 88 V.",
    );
    const bearings = blocking?.readings.map(({ check, bearing }) => `${check}: ${bearing}`);
    expect(bearings).toEqual(["27/pickup: neutral", "27/dropout: neutral", "27/time: supports"]);
  });

  test("would operate nearer to its setting, which a delay that is too long would not: that is the next injection", () => {
    const next = nextInjection(explained(sheet, asFound), { sheet, plan: planned });
    if (next.kind === "none") throw new Error(next.reason);
    expect(next.injection.level).toBeCloseTo(0.95 * 88, 9);
    const predicted = Object.fromEntries(next.expected.map((one) => [one.cause, one.predicted]));
    expect(predicted).toEqual({ "delay-setting": "never", "blocking-level": 1.5 });

    const longer = { ...planned, checks: [...planned.checks, next.injection] };
    const settled = explained(sheet, [...asFound, reading(next.check, 1.51)], longer);
    expect(leading(settled)).toEqual(["blocking-level"]);
    // Half way between 70.4 V and 83.6 V.
    expect(settled[0]?.estimate?.value).toBeCloseTo(77, 2);
  });

  test("is told from all else where an inverse time is read above that level, and none below", () => {
    const { delay: _, ...inverse } = { ...blocked22, curve: "undervoltage-inverse", startContact: "start" };
    const all = told(inverse, { ...inverse, blockBelow: "60 V" });
    expect(leading(all)).toEqual(["blocking-level"]);
    // Read at 0.8 · 88 V = 70.4 V, and not at 0.5 · 88 V = 44 V.
    expect(all[0]?.estimate?.value).toBeCloseTo((70.4 + 44) / 2, 2);
  });

  test("and never tells it from a late one: a time that is read speaks for a delay", () => {
    const all = explained(sheet, [...asFound.slice(0, 2), reading("27/time", 1.9)]);
    expect(leading(all)).toEqual(["delay-setting"]);
    expect(named(all, "blocking-level")).toBeUndefined();
  });

  test("by any level between the two, whatever the setting, it is among what leads; below both nothing is off", () => {
    holds(
      fc.property(fc.integer({ min: 60, max: 100 }), fc.integer({ min: 2, max: 98 }), (pickup, percent) => {
        const onSheet = { ...under, pickup: `${pickup} V` };
        const blockedAt = (ratio: number) => told(onSheet, { ...onSheet, blockBelow: `${ratio * pickup} V` });
        const between = named(blockedAt(0.8 + (0.2 * percent) / 100), "blocking-level");
        const { value = 0 } = between?.estimate ?? {};
        const isBetween = value > 0.8 * pickup && value <= pickup;
        return between?.leading === true && isBetween && blockedAt((0.79 * percent) / 100).length === 0;
      }),
      5,
    );
  });

  test.each([
    [67, 66.464],
    [60, 59.4],
  ])("also within one percent of its pickup: %d V, blocked below %d V", (pickup, blockBelow) => {
    const onSheet = { ...under, pickup: `${pickup} V` };
    const all = told(onSheet, { ...onSheet, blockBelow: `${blockBelow} V` });
    expect(named(all, "blocking-level")).toMatchObject({ rank: 1, leading: true, complete: true });
  });

  test("also where it is timed just inside its pickup of 66 V, at 65.5 V, which leaves it half a volt", () => {
    const readings = [reading("27/pickup", 65.9), reading("27/time", "never", { injected: 65.5 })];
    const blocking = named(explained(read([{ ...under, pickup: "66 V" }]), readings), "blocking-level");
    expect(blocking).toMatchObject({ leading: true, complete: true });
    expect(blocking?.estimate?.value).toBeCloseTo(65.75, 3);
  });

  test("the shipped record of Tannery Lane offers it for the 27 that was left at 75 V", () => {
    const parsed = (name: string) => JSON.parse(readFileSync(`examples/tannery-lane/${name}.json`, "utf8"));
    const shipped = readSheet(parsed("sheet"));
    const made = plan(shipped);
    const { readings } = readReadings(readFileSync("examples/tannery-lane/readings.csv", "utf8"), made);
    const own = explain(judge(shipped, made, readings, parsed("work"))).filter(({ element }) => element === "27");
    const blocking = named(own, "blocking-level");
    expect(blocking?.leading).toBe(true);
    expect(blocking?.says).toMatch(
      /^The function may be blocked below about \d+(\.\d+)? V, where the sheet says 22 V\. The readings leave it open between 70\.4 V and 88 V\.$/,
    );
  });
});

describe("the level that blocks", () => {
  test("above the pickup leaves nothing to be read, and is said without a number", () => {
    const blocking = named(told(under, { ...under, blockBelow: "95 V" }), "blocking-level");
    expect(blocking).toMatchObject({ leading: true, complete: true });
    expect(blocking?.says).toBe(
      "The function may be blocked at every level at which it should have operated, where the sheet names no such level. The readings leave it open above 88 V.",
    );
  });

  test("of the sheet counts in every explanation: a source 8 V low goes below 65 V where it says 70.4 V", () => {
    // It starts at 88 V, written 96 V, and lets go at 89.76 V, written 97.76 V.
    const readings = [reading("27/pickup", 96), reading("27/dropout", 97.8), reading("27/time", "never")];
    const sheet = read([{ ...under, blockBelow: "65 V" }]);
    const offset = named(explained(sheet, readings), "source-offset");
    expect(offset).toMatchObject({ leading: true, complete: true });
    expect(Math.abs((offset?.estimate?.value ?? 0) + 8)).toBeLessThan(0.2);
    const unblocked = named(explained(read([under]), readings), "source-offset");
    expect(unblocked?.complete).not.toBe(true);
  });

  /** Whether a source that puts out less keeps it back, by what was read as never of a check. */
  const isKept = (check: string, blockBelow: string, less: number) => {
    const sheet = read([{ ...under, blockBelow }]);
    const [taken] = takenAt("as-found", judge(sheet, plan(sheet), [reading(check, "never")]), settingsOf(sheet));
    return isHeldBack(taken as Taken, { ...AS_WRITTEN, seen: (level) => level - less });
  };

  test("is held against what is seen: 70.4 V less 10 V, and less than nothing is nothing", () => {
    expect(["60.3 V", "60.5 V"].map((level) => isKept("27/time", level, 10))).toEqual([false, true]);
    expect([66, 65, 80].map((less) => isKept("27/time", "5 V", less))).toEqual([true, false, true]);
  });

  test("counts where a sweep back begins: at 86.24 V, two half widths of 0.88 V below 88 V, less 2 V", () => {
    expect(["84.1 V", "84.3 V"].map((level) => isKept("27/dropout", level, 2))).toEqual([false, true]);
  });

  test("of currents is that of an undercurrent function", () => {
    const { dropout, ...usual } = { ...accuracy, pickup: { percent: 2 } };
    const feeder = { id: "37", function: "37", phases: "any", pickup: "1 A", delay: "1.5 s", accuracy: usual };
    const blocking = named(
      told({ ...feeder, blockBelow: "0.2 A" }, { ...feeder, blockBelow: "0.85 A" }),
      "blocking-level",
    );
    expect(blocking?.leading).toBe(true);
    // Half way between 0.8 A, where it is timed, and its pickup.
    expect(blocking?.says).toBe(
      "The function may be blocked below about 0.9 A, where the sheet says 0.2 A. The readings leave it open between 0.8 A and 1 A.",
    );
  });

  test("of a frequency function is a voltage: no frequency is met at 63.5 V to neutral, and one that is met contradicts it", () => {
    const frequency = {
      id: "81U",
      function: "81U",
      pickup: "49 Hz",
      delay: "0.5 s",
      blockBelow: "30 V",
      accuracy: { pickup: { absolute: "0.01 Hz" }, time: { percent: 1, absolute: "60 ms" } },
    };
    const never = told(frequency, { ...frequency, blockBelow: "64 V" });
    const blocking = named(never, "blocking-level");
    expect(blocking).toMatchObject({ leading: true, complete: true });
    expect(blocking?.says).toMatch("at every level at which it should have operated, where the sheet says 30 V.");
    expect(told(frequency, { ...frequency, blockBelow: "63 V" })).toEqual([]);
    const met = explained(read([frequency]), [reading("81U/pickup", 48.995), reading("81U/time", "never")]);
    expect(leading(met)).toEqual(["delay-setting"]);
    expect(named(met, "blocking-level")).toBeUndefined();
  });

  test("of a directional function is that of the polarising voltage, 110 V between two lines", () => {
    const low = named(told(directional67, { ...directional67, minimumVoltage: "111 V" }), "blocking-level");
    expect(low).toMatchObject({ leading: true, complete: true });
    expect(told(directional67, { ...directional67, minimumVoltage: "109 V" })).toEqual([]);
  });

  test("of an overvoltage function is none: it would have to lie above its own setting", () => {
    const over = { ...under, id: "59", function: "59", pickup: "121 V", dropoutRatio: 0.98, blockBelow: "22 V" };
    const silent = explained(read([over]), [reading("59/pickup", "never"), reading("59/time", "never")]);
    expect(leading(silent)).toContain("pickup-setting");
    expect(named(silent, "blocking-level")).toBeUndefined();
    // Far below every level that was injected it has started where the sweep begins, though 22 V block it.
    const begins = plan(read([over])).checks.find(({ id }) => id === "59/pickup")?.sweep?.from ?? Number.NaN;
    const started = explained(read([over]), [reading("59/pickup", begins), reading("59/time", 1.5)]);
    expect(named(started, "pickup-setting")).toMatchObject({
      complete: true,
      says: "The pickup may be set below every level that was injected. The readings leave it open below 108.8 V.",
    });
  });
});

describe("the level that arms", () => {
  test("above where the sweeps begin, 96.8 V, and below the healthy 110 V leaves the time as it is and the sweeps empty", () => {
    const all = told(under, { ...under, armAbove: "100 V" });
    const arming = named(all, "arming-level");
    expect(arming).toMatchObject({ leading: true, complete: true });
    // Half way between the two.
    expect(arming?.estimate?.value).toBeCloseTo((96.8 + 110) / 2, 2);
    expect(arming?.says).toBe(
      "The function may wait until it has seen more than about 103.4 V, where the sheet names no such level. The readings leave it open between 96.8 V and 110 V.",
    );
    const bearings = arming?.readings.map(({ check, bearing }) => `${check}: ${bearing}`);
    expect(bearings).toEqual(["27/pickup: supports", "27/dropout: supports", "27/quiet: neutral", "27/time: neutral"]);
  });

  test("above the healthy system leaves nothing to be read", () => {
    const all = told({ ...under, armAbove: "90 V" }, { ...under, armAbove: "112 V" });
    const arming = named(all, "arming-level");
    expect(arming).toMatchObject({ leading: true, complete: true });
    expect(arming?.says).toBe(
      "The function may wait until it has seen more than was injected, where the sheet says 90 V. The readings leave it open above 110 V.",
    );
  });

  test("is contradicted by a pickup that is read", () => {
    const readings = [reading("27/pickup", 87.9), reading("27/time", "never")];
    expect(named(explained(read([under]), readings), "arming-level")).toBeUndefined();
  });

  test("as the sheet has it explains nothing, and claims nothing where all is right", () => {
    const waits = { ...under, armAbove: "100 V" };
    const right = [reading("27/pickup", 87.9), reading("27/dropout", 89.8), reading("27/time", 1.51)];
    expect(explained(read([waits]), right)).toEqual([]);
    const [first] = explained(read([waits]), [...right.slice(0, 2), reading("27/time", 1.9)]);
    expect(first).toMatchObject({ cause: "delay-setting", complete: true });
  });
});
