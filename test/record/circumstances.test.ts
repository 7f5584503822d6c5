/** What stands beside the readings, and what it does to the verdicts. */
import { operateTime } from "tripwright/curve";
import { plan } from "tripwright/plan";
import { type JudgeOptions, judge, type Reading, readReadings } from "tripwright/record";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { instantaneous50, inverse51, read } from "../support/sheets.js";
import { taken } from "../support/taken.js";

const sheet = read([inverse51, instantaneous50]);
const planned = plan(sheet);
const record = (readings: readonly Reading[], options: JudgeOptions = {}, of = sheet) =>
  judge(of, plan(of), readings, options);
const verdictOn = (check: string, ...given: Parameters<typeof record>) =>
  record(...given).verdicts.find((verdict) => verdict.check === check);

describe("where nothing may happen", () => {
  test.each([
    ["never", "within"],
    ["operated", "outside"],
    [0.7, "outside"],
  ] as const)("%s is %s", (value, expected) => {
    expect(verdictOn("51P/quiet", [taken("51P/quiet", value)])).toMatchObject({ grade: { verdict: expected } });
  });

  test("a reading is a time in the file, or one of the words", () => {
    const lines = "check,value\n51P/quiet,250 ms\n50P/quiet,operated";
    expect(readReadings(lines, planned).readings.map(({ value }) => value)).toEqual([0.25, "operated"]);
    expect(readReadings("check,value\n51P/quiet,3 A", planned).problems).toMatchObject([{ path: "value" }]);
  });
});

describe("what another element or contact did is no reading of this one", () => {
  test.each([
    ["a faster neighbour", { operatedBy: "50P" }, "operated by 50P"],
    ["another contact", { contact: "alarm" }, "contact alarm"],
  ])("%s", (_what, more, received) => {
    const { verdicts, problems } = record([taken("51P/time@3", 1.35, more)]);
    expect(verdicts.find(({ check }) => check === "51P/time@3")).toMatchObject({ status: "not-taken" });
    expect(problems).toMatchObject([{ code: "not-applicable", received }]);
  });

  test("the element itself on its own contact is", () => {
    const reading = taken("51P/time@3", 1.35, { operatedBy: "51P", contact: "trip" });
    expect(verdictOn("51P/time@3", [reading])).toMatchObject({ status: "graded" });
  });

  test("that it operated says nothing about how long it took", () => {
    const { verdicts, problems } = record([taken("51P/time@3", "operated")]);
    expect(verdicts.find(({ check }) => check === "51P/time@3")).toMatchObject({ status: "not-taken" });
    expect(problems).toMatchObject([{ received: "operated" }]);
  });
});

describe("uncertainty", () => {
  const uncertainty = { standard: 0.002, coverageFactor: 2 };
  const usedFor = (reading: Partial<Reading>, options: JudgeOptions = {}, of = sheet) => {
    const verdict = verdictOn("51P/time@3", [taken("51P/time@3", 1.35, reading)], options, of);
    return verdict?.status === "graded" ? verdict.readings[0]?.uncertainty : undefined;
  };

  test("of the injected level goes through the time law: dt/dI · u(I), beside that of the reading", () => {
    // Very inverse, 13.5/(M − 1) · 0.2 at M = 3: dt/dI = −2.7/(M − 1)²/4 A = −0.16875 s/A; u(I) = 0.02 A.
    const through = 0.16875 * 0.02;
    const used = usedFor({ uncertainty, injectedUncertainty: { standard: 0.02, coverageFactor: 2 } });
    expect(used?.standard).toBeCloseTo(Math.hypot(0.002, through), 7);
    expect(used?.coverageFactor).toBe(2);
  });

  test("near the setting that of the level is what counts", () => {
    const near = { injected: 4.4, injectedUncertainty: { standard: 0.01, coverageFactor: 2 } };
    const setting = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
    const slope = (operateTime(setting, 1.1 + 1e-6) - operateTime(setting, 1.1 - 1e-6)) / 8e-6;
    const standard = usedFor({ ...near, uncertainty })?.standard ?? 0;
    expect(standard / Math.hypot(0.002, slope * 0.01)).toBeCloseTo(1, 6);
    expect(standard).toBeGreaterThan(100 * 0.002);
  });

  test("however far the level may lie below the start, the slope is that at the level: t/(I − 4 A) of a very inverse time", () => {
    for (const injected of [4.002, 4.02, 4.1, 6]) {
      const time = (13.5 * 0.2) / (injected / 4 - 1);
      const of = { injected, injectedUncertainty: { standard: 0.05, coverageFactor: 2 } };
      const standard = usedFor({ ...of, uncertainty })?.standard ?? 0;
      expect(standard / Math.hypot(0.002, (time / (injected - 4)) * 0.05)).toBeCloseTo(1, 4);
    }
  });

  test("of a definite time does not depend on the level", () => {
    const delayed = read([{ ...instantaneous50, delay: "0.1 s" }]);
    const reading = taken("50P/time", 0.1, { uncertainty, injectedUncertainty: { standard: 1, coverageFactor: 2 } });
    const verdict = verdictOn("50P/time", [reading], {}, delayed);
    expect(verdict).toMatchObject({ readings: [{ uncertainty }] });
  });

  test("of a level that is wider than the level itself reaches below 0 and stops nobody", () => {
    const delayed = read([{ ...instantaneous50, delay: "0.1 s" }]);
    const reading = taken("50P/time", 0.1, { uncertainty, injectedUncertainty: { standard: 100, coverageFactor: 2 } });
    expect(verdictOn("50P/time", [reading], {}, delayed)).toMatchObject({ grade: { verdict: "within" } });
  });

  test("comes from the instrument where the reading has none, from the source where neither has, as a rectangle", () => {
    const meter = { id: "T1", description: "timer", accuracy: { s: { absolute: 0.006 } } };
    expect(usedFor({ instrument: "T1" }, { instruments: [meter] })?.standard).toBeCloseTo(0.006 / Math.sqrt(3), 15);
    const accurate = read([inverse51], { source: { accuracy: { time: { absolute: "3 ms" } } } });
    expect(usedFor({}, {}, accurate)?.standard).toBeCloseTo(0.003 / Math.sqrt(3), 15);
    expect(usedFor({ uncertainty }, { instruments: [meter] })?.standard).toBe(0.002);
    expect(usedFor({})).toBeUndefined();
  });

  test("of an instrument that states none is not that of the source: a clamp is not as good because the source is", () => {
    const source = { accuracy: { time: { absolute: "3 ms" }, current: { percent: 0.2 } } };
    const accurate = read([inverse51], { source });
    const silent = { id: "T1", description: "timer" };
    expect(usedFor({ instrument: "T1" }, { instruments: [silent] }, accurate)).toBeUndefined();
    // The level that goes with a time comes from the source, whatever the time was read on: 0.2 % of 12 A.
    const timer = { ...silent, accuracy: { s: { absolute: 0.003 } } };
    const level = (0.16875 * 12 * 0.002) / Math.sqrt(3);
    expect(usedFor({ instrument: "T1" }, { instruments: [timer] }, accurate)?.standard).toBeCloseTo(
      Math.hypot(0.003 / Math.sqrt(3), level),
      6,
    );
  });

  test("of a rectangle is expanded by 2, where nobody says otherwise", () => {
    const accurate = read([inverse51], { source: { accuracy: { time: { absolute: "3 ms" } } } });
    expect(usedFor({}, {}, accurate)?.coverageFactor).toBe(2);
  });

  test("at the end of a drawn curve counts what is known: no time beyond it, half the slope before it", () => {
    const points = [
      { multiple: 2, time: 3 },
      { multiple: 15, time: 0.5 },
    ];
    const drawn = read([{ ...inverse51, curve: { form: "table", points }, multiplier: 1 }]);
    const injectedUncertainty = { standard: 0.1, coverageFactor: 2 };
    const reading = taken("51P/time@15", 0.5, { uncertainty, injectedUncertainty });
    const verdict = verdictOn("51P/time@15", [reading], {}, drawn);
    const used = verdict?.status === "graded" ? (verdict.readings[0]?.uncertainty?.standard ?? 0) : 0;
    // No more than the steepest way from point to point: 2.5 s over 13 × 4 A, per 0.1 A; the time itself is 0.5 s.
    expect(used).toBeGreaterThan(0.002);
    expect(used).toBeLessThan(0.01);
  });

  test("turns a verdict near the limit: 1.415 s against 1.4175 s is within by itself, undecided with the injection", () => {
    const of = read([inverse51], { decisionRule: "three-way" });
    const reading = { uncertainty: { standard: 0.0005, coverageFactor: 2 } };
    const injectedUncertainty = { standard: 0.02, coverageFactor: 2 };
    expect(verdictOn("51P/time@3", [taken("51P/time@3", 1.415, reading)], {}, of)).toMatchObject({
      grade: { verdict: "within" },
    });
    expect(
      verdictOn("51P/time@3", [taken("51P/time@3", 1.415, { ...reading, injectedUncertainty })], {}, of),
    ).toMatchObject({ grade: { verdict: "undecided" } });
  });
});

describe("instruments", () => {
  const meter = { id: "M1", description: "true-rms multimeter", dueOn: "2026-11-18" };

  test("whose calibration had run out on the day are named; on the last day it had not", () => {
    const at = (takenAt: string) =>
      record([taken("51P/pickup", 4, { instrument: "M1", takenAt })], { instruments: [meter] }).problems;
    expect(at("2026-11-18T23:59")).toEqual([]);
    expect(at("2026-11-19T00:01")).toMatchObject([{ code: "conflict", received: "a reading of 2026-11-19T00:01" }]);
  });

  test("calibrated after the reading say nothing of it", () => {
    const later = { id: "M1", description: "true-rms multimeter", calibratedOn: "2026-11-18", dueOn: "2027-11-18" };
    const at = (takenAt: string) =>
      record([taken("51P/pickup", 4, { instrument: "M1", takenAt })], { instruments: [later] }).problems;
    expect(at("2026-11-18T00:01")).toEqual([]);
    expect(at("2026-11-17T23:59")).toMatchObject([
      { code: "conflict", expected: "an instrument in calibration; M1 was calibrated on 2026-11-18" },
    ]);
  });

  test("are kept in the record", () => {
    expect(record([], { instruments: [meter] }).instruments).toEqual([meter]);
  });

  test.each([
    ["a reading on one that is not listed", { instruments: [] }, "readings[0].instrument"],
    ["two of one name", { instruments: [meter, meter] }, "instruments[1].id"],
    ["one without a description", { instruments: [{ id: "M1" }] }, "instruments[0].description"],
    ["one whose description is empty", { instruments: [{ ...meter, description: "" }] }, "instruments[0].description"],
    ["one of an empty name", { instruments: [{ ...meter, id: "" }] }, "instruments[0].id"],
    ["a day that is none", { instruments: [{ ...meter, dueOn: "2026-02-30" }] }, "instruments[0].dueOn"],
    ["an unknown field", { instruments: [{ ...meter, owner: "x" }] }, "instruments[0].owner"],
    ["a serial number that is no text", { instruments: [{ ...meter, serial: 118 }] }, "instruments[0].serial"],
    ["a certificate that is none", { instruments: [{ ...meter, certificate: null }] }, "instruments[0].certificate"],
    [
      "an accuracy of a unit that no reading has",
      { instruments: [{ ...meter, accuracy: { mA: { percent: 1 } } }] },
      "instruments[0].accuracy.mA",
    ],
    ["no list", { instruments: meter }, "instruments"],
    [
      "an accuracy that is none",
      { instruments: [{ ...meter, accuracy: { A: { percent: -1 } } }] },
      "instruments[0].accuracy.A.percent",
    ],
  ])("%s is refused by name", (_what, options, path) => {
    const reading = taken("51P/pickup", 4, { instrument: "M1" });
    expect(problemsOf(() => record([reading], options as never))).toMatchObject([{ path }]);
  });
});

describe("temporary changes", () => {
  const link = { what: "trip link TB3-1 opened", changedAt: "2026-11-18T09:00" };

  test("that are not restored, or not proved to be, are problems of the record", () => {
    const { problems } = record([], {
      changes: [
        link,
        { ...link, restoredAt: "2026-11-18T15:00" },
        { ...link, restoredAt: "2026-11-18T15:00", proof: "measured" },
      ],
    });
    expect(problems).toMatchObject([
      { path: "changes[0].restoredAt", expected: expect.stringContaining("trip link TB3-1 opened") },
      { path: "changes[1].proof" },
    ]);
  });

  test("whose proof is blank are not proved", () => {
    const restored = { ...link, restoredAt: "2026-11-18T15:00", proof: " " };
    expect(record([], { changes: [restored] }).problems).toMatchObject([{ code: "missing", path: "changes[0].proof" }]);
  });

  test.each([
    ["2026-11-17T15:00", "2026-11-18T09:00", true],
    ["2026-11-18T08:59", "2026-11-18T09:00", true],
    ["2026-11-17", "2026-11-18T09:00", true],
    ["2026-11-18T10:30+11:00", "2026-11-18T00:30+00:00", true],
    ["2026-11-18T09:00", "2026-11-18T09:00", false],
    ["2026-11-18", "2026-11-18T09:00", false],
    ["2026-11-18T12:30+11:00", "2026-11-18T00:30Z", false],
    // Of one without a zone nobody knows.
    ["2026-11-18T08:00", "2026-11-18T09:00+11:00", false],
  ])("restored at %s, changed at %s: before it was changed is %s", (restoredAt, changedAt, isBefore) => {
    const { problems } = record([], { changes: [{ ...link, changedAt, restoredAt, proof: "measured" }] });
    expect(problems.map(({ code, path }) => `${code} ${path}`)).toEqual(
      isBefore ? ["conflict changes[0].restoredAt"] : [],
    );
  });

  test.each([
    ["with a proof that is no text", { changes: [{ ...link, proof: true }] }, "changes[0].proof"],
    ["without a word", { changes: [{}] }, "changes[0].what"],
    ["that are empty", { changes: [{ ...link, what: "" }] }, "changes[0].what"],
    ["at a time that is none", { changes: [{ ...link, restoredAt: "soon" }] }, "changes[0].restoredAt"],
    ["that are no list", { changes: link }, "changes"],
  ])("%s are refused by name", (_what, options, path) => {
    expect(problemsOf(() => record([], options as never))).toMatchObject([{ path }]);
  });
});
