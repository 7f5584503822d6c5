import fc from "fast-check";
import type { SynchronismSetting } from "tripwright/element";
import { plan, type Sheet, settingsOf } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import {
  bandOf,
  checkNamed,
  inverse51,
  read,
  reasonFor,
  synchronism25,
  synchronismSheets,
  undervoltage27,
} from "../support/sheets.js";

const sheetWith = (change: object = {}, other: object = {}): Sheet => read([{ ...synchronism25, ...change }], other);

/** The checks that a relay with other settings than the sheet fails. */
function outside(sheet: Sheet, relay: Sheet = sheet): string[] {
  const planned = plan(sheet);
  return judge(sheet, planned, rehearsePlan(relay, planned)).verdicts.flatMap((one) =>
    one.status === "graded" && one.grade.verdict === "outside" ? [one.check] : [],
  );
}

describe("the plan of a synchronism check", () => {
  const sheet = sheetWith();

  test("proves every limit alone, that a dead side is not closed onto, and the timer", () => {
    expect(plan(sheet).checks.map(({ id }) => id)).toEqual([
      "25/pickup",
      "25/edge@lagging",
      "25/edge@higher",
      "25/edge@lower",
      "25/edge@faster",
      "25/edge@slower",
      "25/quiet",
      "25/quiet@dead-running",
      "25/quiet@dead-incoming",
      "25/time",
    ]);
  });

  test("sweeps the angle from outside on either side, with equal voltages and no slip", () => {
    const leading = checkNamed(sheet, "25/pickup");
    expect(bandOf(leading)).toEqual({ nominal: 20, low: 18, high: 22 });
    expect(leading).toMatchObject({ unit: "°", contact: "permit", sweep: { from: 24, to: 16 } });
    const [first] = leading.timeline.segments;
    expect(first?.channels["vb"]).toMatchObject({ angle: 24, frequency: 50 });
    const lagging = checkNamed(sheet, "25/edge@lagging");
    expect(bandOf(lagging)).toEqual({ nominal: 20, low: 18, high: 22 });
    expect(lagging.timeline.segments[0]?.channels["vb"]?.angle).toBe(-24);
  });

  test("holds each limit against the accuracy in its own unit", () => {
    const higher = checkNamed(sheet, "25/edge@higher");
    expect(bandOf(higher)).toEqual({ nominal: 5, low: 4, high: 6 });
    expect(higher.unit).toBe("V");
    const slower = checkNamed(sheet, "25/edge@slower");
    expect(bandOf(slower)).toEqual({ nominal: 0.1, low: 0.08, high: 0.12 });
    expect(slower.unit).toBe("Hz");
    // 0.14 Hz slower.
    expect(slower.timeline.segments[0]?.channels["vb"]?.frequency).toBeCloseTo(49.86, 10);
    const bare = sheetWith({ accuracy: { pickup: { absolute: "2°" }, time: { percent: 5 } } });
    expect(reasonFor(bare, "25/edge@higher")).toMatch("accuracy of the voltage");
    expect(reasonFor(bare, "25/edge@faster")).toMatch("accuracy of the frequency");
    expect(reasonFor(bare, "25/edge@lagging")).toBeUndefined();
  });

  test("lets each slip stand for a whole turn and a pass through the window", () => {
    const { sweep, timeline } = checkNamed(sheet, "25/edge@faster");
    // At 0.06 Hz a turn takes 16.67 s and the pass of ±22° 2.04 s; the timer is at most 0.54 s, the response 0.1 s twice.
    expect(sweep).toMatchObject({ from: 0.14, to: 0.06, hold: 20 });
    expect(timeline.segments.at(-1)?.duration).toBe(20);
  });

  test("a slip so slow that nobody would wait for a turn is listed with the reason", () => {
    const slow = sheetWith({
      slip: "10 mHz",
      accuracy: { ...synchronism25.accuracy, frequency: { absolute: "1 mHz" } },
    });
    expect(reasonFor(slow, "25/edge@faster")).toBe("at 0.008 Hz a level would have to stand for more than 120 s");
  });

  test("a slip at which the timer decides cannot be proved, and is found to make no sense", () => {
    const fast = sheetWith({ slip: "0.3 Hz" });
    // 18° on either side at 0.3 Hz and its tolerance of 0.02 Hz: 36/360/0.32 = 0.3125 s.
    expect(reasonFor(fast, "25/edge@faster")).toMatch(
      "at 0.32 Hz, still within the tolerance, the angle passes the window in 0.3125 s, too soon for the timer",
    );
    // 18/180/0.54 s is 0.185 Hz: a limit of 0.17 Hz that lies beyond its 0.02 Hz need not show before the timer.
    expect(reasonFor(sheetWith({ slip: "0.17 Hz" }), "25/edge@faster")).toMatch("too soon for the timer");
    expect(reasonFor(sheetWith({ slip: "0.16 Hz" }), "25/edge@faster")).toBeUndefined();
    // 20/180/0.5.
    expect(plan(fast).findings).toMatchObject([{ path: "25.slip", received: "0.3 Hz" }]);
    expect(plan(fast).findings[0]?.expected).toMatch("at most 0.2222 Hz");
    expect(plan(sheetWith({ slip: "0.22 Hz" })).findings).toEqual([]);
    expect(plan(sheetWith({ slip: "3 Hz", delay: "0 s", measuringDelay: "10 ms" })).findings).toEqual([]);
  });

  test("with one voltage channel says what cannot be shown, and shows what can", () => {
    const single = sheetWith({ liveAbove: "50 V" }, { source: { voltageChannels: 1 } });
    expect(plan(single).checks.map(({ id }) => id)).toEqual([
      "25/edge@live",
      "25/quiet@dead-running",
      "25/quiet@dead-incoming",
    ]);
    expect(reasonFor(single, "25/pickup")).toMatch("equal voltages in parallel show only that it permits");
    expect(checkNamed(single, "25/edge@live").timeline.wiring["v"]?.feeds).toEqual({ va: 1, vs: 1 });
  });

  test("is blocked for the checks of others where a dead side may be closed onto, and blocks what misses its phases", () => {
    const beside = (change: object) => read([inverse51, undervoltage27, { ...synchronism25, ...change }]);
    const dead = { liveAbove: "50 V", deadBelow: "12 V", deadClosing: "incoming" };
    // Nothing feeds vs while another element is checked.
    expect(checkNamed(beside(dead), "51P/pickup").block).toContain("25");
    expect(checkNamed(beside({}), "51P/pickup").block).not.toContain("25");
    // The channel of phase b feeds the incoming side: two lines are low.
    expect(checkNamed(beside({}), "25/pickup").block).toContain("27");
  });

  test("has another one blocked that permits as the incoming side turns past", () => {
    // Between two phases, fed in halves, and without a limit of slip: it permits somewhere in every turn, but not in step.
    const { slip: _, voltageDifference: __, ...rest } = synchronism25;
    const { pickup, time } = synchronism25.accuracy;
    const loose = { ...rest, id: "25-ca", watches: "ca", accuracy: { pickup, time } };
    const both = read([{ ...synchronism25, watches: "bc" }, loose]);
    expect(checkNamed(both, "25/edge@faster").block).toEqual(["25-ca"]);
    expect(checkNamed(both, "25/edge@higher").block).toEqual([]);
  });

  test("finds a dead threshold that nothing is compared with", () => {
    const thresholds = { liveAbove: "50 V", deadBelow: "12 V" };
    expect(plan(sheetWith(thresholds)).findings).toMatchObject([{ path: "25.deadBelow", received: "12 V" }]);
    expect(plan(sheetWith({ ...thresholds, deadClosing: "either" })).findings).toEqual([]);
    expect(plan(sheetWith({ liveAbove: "50 V" })).findings).toEqual([]);
  });

  test("reminds of the closing circuit", () => {
    expect(plan(sheet).cautions.at(-1)).toMatch("closing circuit");
  });
});

describe("a relay that is not set as the sheet says fails the checks of what is wrong, and no others", () => {
  const dead = { liveAbove: "50 V", deadBelow: "12 V" };
  test.each([
    ["a wider angle", {}, { pickup: "25°" }, ["25/pickup", "25/edge@lagging", "25/quiet"]],
    ["a larger difference", {}, { voltageDifference: "7 V" }, ["25/edge@higher", "25/edge@lower"]],
    ["more slip", {}, { slip: "0.15 Hz" }, ["25/edge@faster", "25/edge@slower"]],
    ["less slip", {}, { slip: "0.07 Hz" }, ["25/edge@faster", "25/edge@slower"]],
    ["a longer timer", {}, { delay: "0.6 s" }, ["25/time"]],
    ["closing onto a dead side", dead, { deadClosing: "running" }, ["25/quiet@dead-running"]],
    ["a live threshold", { ...dead, deadClosing: "either" }, { liveAbove: "55 V" }, ["25/edge@live"]],
    [
      "a dead threshold",
      { ...dead, deadClosing: "either" },
      { deadBelow: "15 V" },
      ["25/edge@dead-running", "25/edge@dead-incoming"],
    ],
  ])("%s", (_what, base, wrong, failed) => {
    expect(outside(sheetWith(base), sheetWith({ ...base, ...wrong }))).toEqual(failed);
  });

  test("another phase: nothing of it is permitted", () => {
    expect(outside(sheetWith(), sheetWith({ watches: "b" }))).toContain("25/pickup");
  });
});

test("a relay that is right is within on every check, whatever its settings, source, frequency and rotation", () => {
  holds(
    fc.property(synchronismSheets, (sheet) => {
      const planned = plan(sheet);
      const slow = planned.findings.some(({ path }) => path.endsWith(".delay"));
      const { verdicts } = judge(sheet, planned, rehearsePlan(sheet, planned));
      const wrong = verdicts.filter(
        (one) => one.status === "not-taken" || (one.status === "graded" && one.grade.verdict !== "within"),
      );
      expect(wrong.filter(({ check }) => !(slow && check.endsWith("/time"))).map(({ check }) => check)).toEqual([]);
    }),
    25,
  );
});

describe("on a sheet", () => {
  test("voltages are those of what is compared, on the side of the transformers that is said", () => {
    const [phase] = settingsOf(sheetWith({ voltageDifference: "0.1 × rated", liveAbove: "0.8 × rated" })).elements;
    expect((phase as SynchronismSetting).liveAbove).toBeCloseTo(0.8 * (110 / Math.sqrt(3)), 12);
    const pair = settingsOf(sheetWith({ watches: "bc", voltageDifference: "0.1 × rated" })).elements[0];
    expect(pair).toMatchObject({ voltageDifference: 11, slip: 0.1, contact: "permit" });
    const primary = settingsOf(sheetWith({ voltageDifference: "500 V" }, { values: "primary" })).elements[0];
    expect(primary).toMatchObject({ voltageDifference: 5, pickup: 20 });
  });

  test.each([
    [{ pickup: "20 V" }, "elements[0].pickup", "wrong-unit"],
    [{ slip: "0.1 V" }, "elements[0].slip", "wrong-unit"],
    [{ voltageDifference: "-5 V" }, "elements[0].voltageDifference", "out-of-range"],
    [{ closingTime: "80" }, "elements[0].closingTime", "wrong-unit"],
    [{ deadClosing: "bus" }, "elements[0].deadClosing", "unknown-name"],
    [{ deadClosing: "running" }, "elements[0].deadBelow", "missing"],
    [{ watches: "va" }, "elements[0].watches", "unknown-name"],
    [{ watches: undefined }, "elements[0].watches", "missing"],
    [{ curve: "iec-inverse", delay: undefined }, "elements[0].curve", "not-applicable"],
  ])("%j is refused", (change, path, code) => {
    expect(problemsOf(() => sheetWith(change))).toMatchObject([{ path, code }]);
  });
});
