import fc from "fast-check";
import { plan } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import {
  bandOf,
  directional67,
  distance21,
  instantaneous50,
  inverse51,
  read,
  sheets,
  synchronism25,
  undervoltage27,
  usual,
} from "../support/sheets.js";
import { taken } from "../support/taken.js";

const sheet = read([inverse51], { source: { maximumCurrent: "50 A" } });
const planned = plan(sheet);

const verdictOn = (check: string, readings: readonly Reading[], options = {}) =>
  judge(sheet, planned, readings, options).verdicts.filter((verdict) => verdict.check === check);

describe("verdicts", () => {
  test.each([
    ["in the middle", 1.35, "within"],
    // 1.35 s ± 5 %
    ["on the upper limit", 1.4175, "within"],
    ["on the lower limit", 1.2825, "within"],
    ["one digit above it", 1.4176, "outside"],
    ["one digit below it", 1.2824, "outside"],
    ["never", "never", "outside"],
  ] as const)("a time %s", (_what, value, expected) => {
    expect(verdictOn("51P/time@3", [taken("51P/time@3", value)])).toMatchObject([
      { status: "graded", grade: { verdict: expected } },
    ]);
  });

  test("what was not taken is not taken, with the note as reason, and never within", () => {
    expect(verdictOn("51P/time@3", [taken("51P/time@3", "not-taken", { note: "no time left" })])).toEqual([
      { check: "51P/time@3", stage: "as-found", status: "not-taken", reason: "no time left" },
    ]);
    expect(verdictOn("51P/time@7", [])).toEqual([{ check: "51P/time@7", stage: "as-found", status: "not-taken" }]);
  });

  test("a reading that was given and could not be read is not left without a reason", () => {
    const problem = { code: "unreadable", path: "value", expected: "a time", received: '"1,3 s"', line: 7 } as const;
    const problems = [{ ...problem, check: "51P/time@3", stage: "as-found" } as const];
    const reason = "a reading was given on line 7 and not used";
    expect(verdictOn("51P/time@3", [], { problems })).toMatchObject([{ status: "not-taken", reason }]);
    // What was noted of a repeat that was left out is told behind it.
    const leftOut = taken("51P/time@3", "not-taken", { repeat: 2, note: "no time left" });
    expect(verdictOn("51P/time@3", [leftOut], { problems })).toMatchObject([{ reason: `${reason}; no time left` }]);
    // Beside a good reading the problem stands in the list alone.
    expect(verdictOn("51P/time@3", [taken("51P/time@3", 1.35)], { problems })).toMatchObject([{ status: "graded" }]);
    expect(verdictOn("51P/time@7", [], { problems })[0]).not.toHaveProperty("reason");
    const left = [{ ...problem, check: "51P/time@3", stage: "as-left" } as const];
    expect(verdictOn("51P/time@3", [taken("51P/time@3", 1.35)], { problems: left })).toMatchObject([
      { stage: "as-found", status: "graded" },
      { stage: "as-left", status: "not-taken", reason },
    ]);
  });

  test("what is impossible stays in the record", () => {
    expect(verdictOn("51P/time@15", [])).toMatchObject([
      { status: "impossible", reason: expect.stringContaining("60 A") },
    ]);
  });

  test("as found and as left are two verdicts", () => {
    const readings = [taken("51P/time@3", 1.5), taken("51P/time@3", 1.36, { stage: "as-left" })];
    expect(verdictOn("51P/time@3", readings)).toMatchObject([
      { stage: "as-found", grade: { verdict: "outside" } },
      { stage: "as-left", grade: { verdict: "within" } },
    ]);
  });

  test("as left alone does not make up for as found", () => {
    expect(verdictOn("51P/time@3", [taken("51P/time@3", 1.36, { stage: "as-left" })])).toMatchObject([
      { stage: "as-found", status: "not-taken" },
      { stage: "as-left", status: "graded" },
    ]);
  });
});

describe("repeats", () => {
  test("are all kept, and the worst makes the verdict", () => {
    const values: Reading["value"][] = [1.36, 1.5, 1.34];
    const [verdict] = verdictOn(
      "51P/time@3",
      values.map((value, i) => taken("51P/time@3", value, { repeat: i + 1 })),
    );
    expect(verdict).toMatchObject({ decisive: 1, grade: { verdict: "outside" } });
    expect(verdict).toHaveProperty("readings.length", 3);
  });

  test("never is worse than any number", () => {
    const [verdict] = verdictOn("51P/time@3", [taken("51P/time@3", 9), taken("51P/time@3", "never", { repeat: 2 })]);
    expect(verdict).toMatchObject({ decisive: 1 });
  });

  test("undecided is worse than within", () => {
    const uncertainty = { standard: 0.005, coverageFactor: 2 };
    const [verdict] = verdictOn(
      "51P/time@3",
      // 1.4175 s is the limit.
      [taken("51P/time@3", 1.415, { uncertainty }), taken("51P/time@3", 1.36, { uncertainty, repeat: 2 })],
      { rule: "three-way" },
    );
    expect(verdict).toMatchObject({ decisive: 0, grade: { verdict: "undecided" } });
  });

  test("among those within, the one nearest to its limit stands for the rest, too short as well as too long", () => {
    const [verdict] = verdictOn("51P/time@3", [taken("51P/time@3", 1.37), taken("51P/time@3", 1.3, { repeat: 2 })]);
    expect(verdict).toMatchObject({ decisive: 1 });
  });
});

describe("repeats against one limit", () => {
  const oneSided = (side: "high" | "low") =>
    read([{ ...inverse51, accuracy: { ...inverse51.accuracy, pickup: { percent: 5, side } } }]);
  test.each([
    // At most 4.2 A: a start at 2 A is no nearer to the limit than one at 4.1 A, though further from the setting.
    ["high", [2, 4.1], 1],
    ["high", [3, 3.5, 2], 1],
    // At least 3.8 A.
    ["low", [9, 3.9], 1],
    ["low", [5, 4.5, 6], 1],
  ] as const)("with the %s limit alone, of %j the nearest to it is the worst", (side, values, decisive) => {
    const of = oneSided(side);
    const readings = values.map((value, i) => taken("51P/pickup", value, { repeat: i + 1 }));
    const { verdicts } = judge(of, plan(of), readings);
    expect(verdicts.find(({ check }) => check === "51P/pickup")).toMatchObject({
      decisive,
      grade: { verdict: "within" },
    });
  });
});

describe("a repeat that was left out", () => {
  test("beside others keeps its note in the record", () => {
    const readings = [
      taken("51P/time@3", "not-taken", { note: "the source tripped" }),
      taken("51P/time@3", 1.35, { repeat: 2 }),
    ];
    const { verdicts, problems } = judge(sheet, planned, readings);
    expect(verdicts.find(({ check }) => check === "51P/time@3")).toMatchObject({ grade: { verdict: "within" } });
    expect(problems).toEqual([
      {
        code: "missing",
        path: "51P/time@3, as-found, repeat 1",
        expected: "a reading",
        received: "not taken: the source tripped",
      },
    ]);
  });
});

describe("what was really injected", () => {
  test("moves the band: 13.5/(11.2/4 − 1) · 0.2 s = 1.5 s", () => {
    const value = 1.5;
    expect(verdictOn("51P/time@3", [taken("51P/time@3", value)])).toMatchObject([{ grade: { verdict: "outside" } }]);
    const [verdict] = verdictOn("51P/time@3", [taken("51P/time@3", value, { injected: 11.2 })]);
    expect(verdict).toMatchObject({
      grade: { verdict: "within", error: 0 },
      readings: [{ band: { nominal: 1.5, low: 1.425, high: 1.575 } }],
    });
  });

  test("and where that reaches beyond what was waited, never is no failure: at 8 A 2.7 s + 5 % = 2.835 s", () => {
    const waited = planned.checks.find(({ id }) => id === "51P/time@3")?.timeline.segments.at(-1)?.duration ?? 0;
    expect(waited).toBeGreaterThan(1.4175);
    expect(waited).toBeLessThan(2.835);
    const record = judge(sheet, planned, [taken("51P/time@3", "never", { injected: 8 })]);
    expect(record.verdicts.find(({ check }) => check === "51P/time@3")).toMatchObject({ status: "not-taken" });
    expect(record.problems[0]?.expected).toMatch("longer than 2.835 s");
    // At 11.2 A 1.575 s was waited for.
    expect(verdictOn("51P/time@3", [taken("51P/time@3", "never", { injected: 11.2 })])).toMatchObject([
      { grade: { verdict: "outside" } },
    ]);
  });

  test("where a relay within its tolerance need not have started, never is no failure: 4 A + 5 % = 4.2 A", () => {
    const definite = { ...instantaneous50, pickup: "4 A", delay: "0.5 s" };
    const late = read([definite, { ...undervoltage27, pickup: "80 V" }]);
    const at = (check: string, injected: number) =>
      judge(late, plan(late), [taken(check, "never", { injected })]).verdicts.find((one) => one.check === check);
    const time = plan(late).checks.filter(({ proves }) => proves === "operate-time");
    const [over, under] = ["50P", "27"].map((element) => time.find((check) => check.element === element)?.id as string);
    for (const injected of [4.05, 4.15, 4.2])
      expect(at(over as string, injected)).toMatchObject({ status: "not-taken" });
    for (const injected of [4.21, 8])
      expect(at(over as string, injected)).toMatchObject({ grade: { verdict: "outside" } });
    // 80 V − 5 % = 76 V.
    expect(at(under as string, 76)).toMatchObject({ status: "not-taken" });
    expect(at(under as string, 75.9)).toMatchObject({ grade: { verdict: "outside" } });
    // Its own start says more than the tolerance, and that of another stage nothing.
    const [pickup] = late.elements.map(({ id }) => `${id}/pickup`);
    for (const [start, stage, status] of [
      [4.18, "as-found", "not-taken"],
      [4.1, "as-found", "graded"],
      [4.1, "as-left", "not-taken"],
    ] as const) {
      const readings = [taken(pickup as string, start, { stage }), taken(over as string, "never", { injected: 4.15 })];
      const { verdicts } = judge(late, plan(late), readings);
      expect(verdicts.find((one) => one.check === over && one.stage === "as-found")?.status).toBe(status);
    }
    // A tolerance on the other side alone leaves the start itself.
    for (const [element, side, inside, beyond] of [
      [{ ...definite, accuracy: { ...usual, pickup: { percent: 5, side: "low" } } }, "50P", 4, 12],
      [{ ...undervoltage27, accuracy: { ...usual, pickup: { percent: 5, side: "high" } } }, "27", 88, 10],
    ] as const) {
      const sided = read([element]);
      const check = plan(sided).checks.find((one) => one.element === side && one.proves === "operate-time")
        ?.id as string;
      const told = (injected: number) =>
        judge(sided, plan(sided), [taken(check, "never", { injected })]).verdicts.find((one) => one.check === check);
      expect(told(inside)).toMatchObject({ status: "not-taken" });
      expect(told(beyond)).toMatchObject({ grade: { verdict: "outside" } });
    }
    const { problems } = judge(late, plan(late), [taken(over as string, "never", { injected: 4.15 })]);
    expect(problems[0]).toMatchObject({
      expected: "an injection above 4.2 A, where a relay within its tolerance has started",
      received: "never operated at 4.15 A",
    });
  });

  test("at or below the start leaves nothing to judge, and says so", () => {
    const record = judge(sheet, planned, [taken("51P/time@3", 1.5, { injected: 4 })]);
    expect(record.verdicts.find(({ check }) => check === "51P/time@3")).toMatchObject({ status: "not-taken" });
    expect(record.problems[0]?.received).toBe("4 A is not above where 51P starts (4 A)");
  });
});

describe("quiet at another level than planned: 4 A − 5 % = 3.8 A, without a source accuracy to keep away by", () => {
  test.each([
    // A fifth of the tolerance of 0.2 A is 0.04 A.
    ["never", 3.8, "within"],
    ["never", 3.77, "within"],
    ["never", 3.9, "within"],
    ["never", 3.7, "not-taken"],
    ["never", 0, "not-taken"],
    ["operated", 3.8, "outside"],
    [0.3, 3, "outside"],
    ["operated", 3.9, "not-taken"],
    [0.3, 4.1, "not-taken"],
  ] as const)("%s at %f A is %s", (value, injected, expected) => {
    const record = judge(sheet, planned, [taken("51P/quiet", value, { injected })]);
    const verdict = record.verdicts.find(({ check }) => check === "51P/quiet");
    expect(verdict?.status === "graded" ? verdict.grade.verdict : verdict?.status).toBe(expected);
    expect(record.problems).toHaveLength(expected === "not-taken" ? 1 : 0);
  });

  test("an under function the other way round: 88 V + 5 % = 92.4 V", () => {
    const under = read([undervoltage27]);
    const verdictAt = (value: Reading["value"], injected: number) =>
      judge(under, plan(under), [taken("27/quiet", value, { injected })]).verdicts.find(
        ({ check }) => check === "27/quiet",
      );
    expect(verdictAt("never", 93)).toMatchObject({ grade: { verdict: "within" } });
    expect(verdictAt("never", 110)).toMatchObject({ status: "not-taken" });
    expect(verdictAt("operated", 110)).toMatchObject({ grade: { verdict: "outside" } });
    expect(verdictAt("operated", 90)).toMatchObject({ status: "not-taken" });
  });
});

describe("quiet because of what stands beside the level", () => {
  const of = read([directional67, distance21], { source: { currentChannels: 3, voltageChannels: 3 } });
  test.each([
    // A current from behind of 2 × 4 A; a fault behind at 0.2 × 4 ohm.
    ["67P/quiet@reverse", "never", 8, "within"],
    ["67P/quiet@reverse", "never", 7.2, "within"],
    ["67P/quiet@reverse", "never", 20, "within"],
    ["67P/quiet@reverse", "never", 7.1, "not-taken"],
    ["67P/quiet@reverse", "never", 0.5, "not-taken"],
    ["67P/quiet@reverse", "operated", 0.5, "outside"],
    ["21-1/quiet@reverse-A", "never", 0.88, "within"],
    ["21-1/quiet@reverse-A", "never", 0.1, "within"],
    ["21-1/quiet@reverse-A", "never", 0.89, "not-taken"],
    ["21-1/quiet@reverse-A", "operated", 9, "outside"],
  ] as const)("%s: %s at %f is %s", (check, value, injected, expected) => {
    const record = judge(of, plan(of), [taken(check, value, { injected })]);
    const verdict = record.verdicts.find((one) => one.check === check);
    expect(verdict?.status === "graded" ? verdict.grade.verdict : verdict?.status).toBe(expected);
    expect(record.problems).toHaveLength(expected === "not-taken" ? 1 : 0);
  });

  test("with one side dead, whatever the angle", () => {
    const closing = read([synchronism25], { source: { voltageChannels: 3 } });
    const readings = [taken("25/quiet@dead-running", "never", { injected: 90 })];
    const { verdicts } = judge(closing, plan(closing), readings);
    expect(verdicts.find(({ check }) => check === "25/quiet@dead-running")).toMatchObject({ status: "graded" });
  });
});

describe("decision rules", () => {
  const uncertainty = { standard: 0.005, coverageFactor: 2 };
  test.each([
    // The upper limit is 1.4175 s; the guard 0.01 s.
    ["simple", 1.4175, "within"],
    ["guarded", 1.4075, "within"],
    ["guarded", 1.4076, "outside"],
    ["three-way", 1.4075, "within"],
    ["three-way", 1.4076, "undecided"],
    ["three-way", 1.4275, "undecided"],
    ["three-way", 1.4276, "outside"],
  ])("%s at %f s", (rule, value, expected) => {
    const [verdict] = verdictOn("51P/time@3", [taken("51P/time@3", value, { uncertainty })], { rule });
    expect(verdict).toMatchObject({ grade: { verdict: expected } });
  });

  test("the sheet's own rule holds unless another is given", () => {
    const threeWay = read([inverse51], { decisionRule: "three-way" });
    expect(judge(threeWay, plan(threeWay), []).rule).toBe("three-way");
    expect(judge(threeWay, plan(threeWay), [], { rule: "simple" }).rule).toBe("simple");
  });

  test.each(["guarded", "three-way"] as const)("%s without an uncertainty is undecided, and a problem", (rule) => {
    const record = judge(sheet, planned, [taken("51P/time@3", 1.35)], { rule });
    expect(record.verdicts.find(({ check }) => check === "51P/time@3")).toMatchObject({
      grade: { verdict: "undecided" },
    });
    expect(record.problems).toMatchObject([{ code: "missing", path: "51P/time@3, as-found, repeat 1" }]);
  });
});

describe("readings that are none", () => {
  test.each([
    ["nothing", { value: undefined }, "value"],
    ["null, as NaN is in JSON", { value: null }, "value"],
    ["text", { value: "1.35" }, "value"],
    ["a misspelt word", { value: "Never" }, "value"],
    ["a negative time", { value: -1 }, "value"],
    ["an unknown stage", { stage: "after" }, "stage"],
    ["a repeat that is no count", { repeat: Number.NaN }, "repeat"],
    ["an injected level that is text", { injected: "12" }, "injected"],
    ["an uncertainty without a factor", { uncertainty: { standard: 1 } }, "uncertainty.coverageFactor"],
    ["a time that is none", { takenAt: "18.11.2026" }, "takenAt"],
    ["a key that nobody knows", { colour: "green" }, "colour"],
  ])("%s is refused by name, and never graded", (_what, change, path) => {
    const reading = { ...taken("51P/time@3", 1.35), ...change } as Reading;
    expect(problemsOf(() => judge(sheet, planned, [reading]))[0]?.path).toBe(`readings[0].${path}`);
  });

  test("an unknown rule and a plan of another sheet are refused", () => {
    expect(problemsOf(() => judge(sheet, planned, [], { rule: "foo" as never }))).toMatchObject([{ path: "rule" }]);
    const other = read([{ ...inverse51, id: "51Q" }]);
    expect(problemsOf(() => judge(other, planned, []))).toMatchObject([
      { code: "unknown-name", path: "plan.checks[0].element", expected: "an element of the sheet", received: '"51P"' },
    ]);
  });

  test("a coverage factor of 3 keeps a reading on its guarded limit: 1.4175 s − 7 ms", () => {
    const uncertainty = { standard: 0.007 / 3, coverageFactor: 3 };
    const [verdict] = verdictOn("51P/time@3", [taken("51P/time@3", 1.4105, { uncertainty })], { rule: "guarded" });
    expect(verdict).toMatchObject({ grade: { verdict: "within" } });
  });
});

describe("the record as a whole", () => {
  test("readings of unknown checks or given twice are refused", () => {
    expect(problemsOf(() => judge(sheet, planned, [taken("52P/time", 1)]))).toMatchObject([
      { path: "readings[0].check" },
    ]);
    expect(problemsOf(() => judge(sheet, planned, [taken("51P/pickup", 4), taken("51P/pickup", 4)]))).toMatchObject([
      { path: "readings[1]", code: "duplicate" },
    ]);
    expect(problemsOf(() => judge(sheet, planned, [], { rules: "simple" } as never))).toMatchObject([
      { code: "unknown-key" },
    ]);
  });

  test("a relay that measures exactly what is expected is within on every check of every sheet", () => {
    holds(
      fc.property(sheets, (generated) => {
        const plans = plan(generated);
        const readings = plans.checks.map((check) =>
          taken(check.id, check.expect.form === "band" ? bandOf(check).nominal : "never"),
        );
        const { verdicts } = judge(generated, plans, readings);
        expect(verdicts).toHaveLength(plans.checks.length + plans.impossible.length);
        for (const verdict of verdicts) if (verdict.status === "graded") expect(verdict.grade.verdict).toBe("within");
        expect(verdicts.filter(({ status }) => status === "graded")).toHaveLength(plans.checks.length);
      }),
      40,
    );
  });

  test("survives JSON and back", () => {
    const record = judge(sheet, planned, [taken("51P/time@3", "never"), taken("51P/pickup", 4.1)]);
    expect(JSON.parse(JSON.stringify(record))).toEqual(record);
    expect(structuredClone(record)).toEqual(record);
  });
});
