/** A plan is that of the sheet, or is refused: no reading is held against two settings at once. */
import fc from "fast-check";
import { type Plan, plan, readSheet, type Sheet, settingsOf, timedAt } from "tripwright/plan";
import { judge } from "tripwright/record";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { directional67, inverse51, read, sheets, synchronism25, undervoltage27 } from "../support/sheets.js";
import { taken } from "../support/taken.js";

const sheet = read([inverse51, undervoltage27], { ct: "400/5", source: { maximumCurrent: "50 A" } });
const planned = plan(sheet);
const revived = <T>(data: T): T => JSON.parse(JSON.stringify(data));

describe("a plan of another version of the sheet is refused, by the first check that differs", () => {
  const changed = (change: object, more: object = {}): Sheet =>
    readSheet({ ...sheet, elements: [{ ...inverse51, ...change }, undervoltage27], ...more });
  test.each([
    // 4 A ± 5 % and 5 A ± 5 %
    ["the pickup", changed({ pickup: "5 A" }), "51P/pickup", "from 4.75 to 5.25 A", "from 3.8 to 4.2 A"],
    // 13.5/(3 − 1) · 0.2 s = 1.35 s, and half as much again
    ["the time multiplier", changed({ multiplier: 0.3 }), "51P/time@3", "2.025 s", "1.35 s"],
    ["the curve", changed({ curve: "iec-inverse" }), "51P/time@3", "accepted", "1.35 s"],
    ["the dropout", changed({ dropoutRatio: 0.9 }), "51P/dropout", "3.6 A", "3.8 A"],
    ["the contact", changed({ startContact: "S2" }), "51P/pickup", "on S2 or trip", "on start"],
    ["the CT", changed({}, { ct: "800/5" }), "51P/pickup", "a ratio of 160", "a ratio of 80"],
    ["the function", changed({ function: "51N" }), "51P/pickup", "function 51N", "function 51"],
    [
      "the accuracy",
      changed({ accuracy: { pickup: { percent: 4 }, time: { percent: 5, absolute: "40 ms" } } }),
      "51P/pickup",
      "from 3.84 to 4.16 A",
      "from 3.8 to 4.2 A",
    ],
  ])("%s", (_what, now, check, ofSheet, ofPlan) => {
    const [problem] = problemsOf(() => judge(now, planned, []));
    expect(problem).toMatchObject({ code: "conflict", path: "plan" });
    expect(problem?.expected).toMatch(`a plan of this sheet, where ${check} is `);
    expect(problem?.expected).toMatch(ofSheet);
    expect(problem?.received).toMatch(`a plan where ${check} is `);
    expect(problem?.received).toMatch(ofPlan);
  });

  test("the frequency of the system", () => {
    const other = readSheet({ ...sheet, frequency: "60 Hz" });
    expect(problemsOf(() => judge(other, planned, []))).toMatchObject([
      { path: "plan", expected: "a plan of this sheet, at 60 Hz" },
    ]);
  });

  test("the quiet side and the limits beside the pickup, also where nothing else of the element is planned", () => {
    const alone = (of: Plan, id: string): Plan => ({ ...of, checks: of.checks.filter((check) => check.id === id) });
    const turned = read([{ ...directional67, characteristicAngle: "30°" }]);
    expect(problemsOf(() => judge(turned, alone(plan(read([directional67])), "67P/edge@leading"), []))).toMatchObject([
      // 45° + 90° and 30° + 90°
      { expected: expect.stringMatching(/is at 120°$/), received: expect.stringMatching(/is at 135°;/) },
    ]);
    const higher = read([{ ...inverse51, pickup: "5 A" }]);
    expect(problemsOf(() => judge(higher, alone(plan(read([inverse51])), "51P/quiet"), []))).toMatchObject([
      { expected: expect.stringMatching(/limit at 4.75 A$/), received: expect.stringMatching(/limit at 3.8 A;/) },
    ]);
    const wider = read([{ ...synchronism25, deadBelow: "20 V", liveAbove: "50 V" }]);
    const narrower = read([{ ...synchronism25, deadBelow: "20 V", liveAbove: "60 V" }]);
    expect(problemsOf(() => judge(narrower, plan(wider), [])).map(({ path }) => path)).toEqual(["plan"]);
  });

  test("an element that is switched off now, where all of it was impossible", () => {
    const checks = planned.checks.filter(({ element }) => element === "27");
    const now = readSheet({ ...sheet, elements: [undervoltage27] });
    expect(problemsOf(() => judge(now, { ...planned, checks }, []))).toMatchObject([
      { path: "plan.impossible[0].element", received: '"51P"' },
    ]);
  });
});

describe("a plan of this sheet is taken", () => {
  test("as planned, and back from JSON, of any sheet", () => {
    holds(
      fc.property(sheets, (given) => {
        expect(judge(given, revived(plan(given)), []).problems).toEqual([]);
      }),
      30,
    );
  });

  test("from an engine whose powers differ in the last digits", () => {
    const standard = read([{ ...inverse51, curve: "iec-inverse" }]);
    const nudged = plan(standard).checks.map((check) =>
      check.expect.form === "band"
        ? {
            ...check,
            expect: {
              ...check.expect,
              band: { ...check.expect.band, nominal: check.expect.band.nominal * (1 + 1e-15) },
            },
          }
        : check,
    );
    expect(judge(standard, { ...plan(standard), checks: nudged }, []).problems).toEqual([]);
  });

  test("with checks left out and others added", () => {
    const timed = timedAt(settingsOf(sheet), { element: "51P", multiple: 5 });
    const more = timed.kind === "found" ? [timed.check] : [];
    const checks = [...planned.checks.filter(({ proves }) => proves !== "no-operation"), ...more];
    const record = judge(sheet, { ...planned, checks }, [taken("51P/time@5", 0.675)]);
    expect(record.problems).toEqual([]);
    expect(record.verdicts.find(({ check }) => check === "51P/time@5")).toMatchObject({ grade: { verdict: "within" } });
  });

  test("of what the settings do not hold, such as the note, the sheet may say something else", () => {
    expect(judge(readSheet({ ...sheet, note: "issued again" }), planned, []).problems).toEqual([]);
  });
});

describe("what a plan leaves open is a problem of the record", () => {
  test("an element that was added to the sheet since", () => {
    const now = readSheet({ ...sheet, elements: [...sheet.elements, { ...inverse51, id: "51P-2" }] });
    expect(judge(now, planned, []).problems).toEqual([
      { code: "missing", path: "plan", expected: "a check of every element of the sheet", received: "none of 51P-2" },
    ]);
  });

  test("the plan of another relay with the same settings", () => {
    expect(judge(readSheet({ ...sheet, relay: "F13" }), planned, []).problems).toMatchObject([
      { code: "conflict", path: "plan.about.relay", expected: "a plan of F13", received: `a plan of ${sheet.relay}` },
    ]);
  });
});
