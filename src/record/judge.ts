import type { Band } from "../base/band.js";
import { fail, nameIn, options } from "../base/check.js";
import { decimal, type Exact } from "../base/exact.js";
import { within } from "../base/input-error.js";
import type { Problem } from "../base/problem.js";
import { type DecisionRule, type Grade, grade } from "../grading/index.js";
import { type Check, type ElementSetting, expectTime, type Plan, type Sheet, settingsOf } from "../plan/index.js";
import { checkReading, keyOf, type Reading, type ReadingUncertainty, type Stage } from "./reading.js";
import type { Judged, NeverOperated, TestRecord, Verdict } from "./verdict.js";

/** What the judgement takes into account beside sheet, plan and readings. */
export interface JudgeOptions {
  /** Default: the sheet's own rule, else `simple`. */
  readonly rule?: DecisionRule;
  /** What was wrong with readings that could not be read; carried into the record. */
  readonly problems?: readonly Problem[];
}

/**
 * Judges readings against a plan. Every check of the plan gets a verdict as found, and one as left where there are
 * readings of that; what was not taken is never counted as within.
 *
 * A reading that says what was really injected is judged against the band recomputed for that level. Of several repeats
 * the worst one makes the verdict; all are kept.
 *
 * @throws A {@link InputError} for readings of unknown checks or twice the same, and for a sheet that is not good.
 * Accuracy: comparisons are exact at the limit.
 * @source common practice; rules after ILAC-G8:09/2019
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * const record = judge(sheet, plan(sheet), [{ check: "50P/time", stage: "as-found", repeat: 1, value: 0.14 }]);
 * record.verdicts.map((verdict) => verdict.status); // → ["not-taken", "graded"]
 */
export function judge(sheet: Sheet, plan: Plan, readings: readonly Reading[], given: JudgeOptions = {}): TestRecord {
  options(given, ["rule", "problems"]);
  const settings = settingsOf(sheet);
  const rule = nameIn(given.rule ?? settings.decisionRule, RULES, "rule");
  checkReadings(readings, plan);
  const problems: Problem[] = [...(given.problems ?? [])];
  const verdicts = plan.checks.flatMap((check) => {
    const setting = settings.elements.find(({ id }) => id === check.element);
    if (setting === undefined) return fail("conflict", "plan", "a plan of this sheet", check.element);
    return stagesOf(check, readings).map((stage): Verdict => {
      const taken = readings.filter((reading) => reading.check === check.id && reading.stage === stage);
      return verdictOf(taken, { check, stage, setting, rule, problems });
    });
  });
  const impossible = plan.impossible.map(
    ({ id, reason }): Verdict => ({ check: id, stage: "as-found", status: "impossible", reason }),
  );
  return { format: "tripwright/record@1", sheet, plan, rule, verdicts: [...verdicts, ...impossible], problems };
}

function checkReadings(readings: readonly Reading[], { checks }: Plan): void {
  if (!Array.isArray(readings)) fail("wrong-type", "readings", "a list of readings", readings);
  const seen = new Set<string>();
  readings.forEach((reading, i) => {
    within(`readings[${i}]`, () => {
      checkReading(reading);
      if (!checks.some(({ id }) => id === reading.check))
        fail("unknown-name", "check", "a check of the plan", reading.check);
      if (seen.has(keyOf(reading))) fail("duplicate", "", "each check, stage and repeat once", keyOf(reading));
      seen.add(keyOf(reading));
    });
  });
}

const stagesOf = (check: Check, readings: readonly Reading[]): Stage[] =>
  readings.some((reading) => reading.check === check.id && reading.stage === "as-left")
    ? ["as-found", "as-left"]
    : ["as-found"];

interface Case {
  readonly check: Check;
  readonly stage: Stage;
  readonly setting: ElementSetting;
  readonly rule: DecisionRule;
  /** What goes wrong on the way is added here. */
  readonly problems: Problem[];
}

function verdictOf(taken: readonly Reading[], judged: Case): Verdict {
  const { check, stage } = judged;
  const measured = taken.filter(({ value }) => value !== "not-taken");
  if (measured.length === 0) {
    const reason = taken.find(({ note }) => note !== undefined)?.note;
    return { check: check.id, stage, status: "not-taken", ...(reason !== undefined && { reason }) };
  }
  const graded = measured.flatMap((reading) => judgedOf(reading, judged));
  if (graded.length === 0)
    return { check: check.id, stage, status: "not-taken", reason: "no reading could be judged; see the problems" };
  const decisive = graded.reduce((worst, candidate, i) => (isWorse(candidate, graded[worst] as Judged) ? i : worst), 0);
  return {
    check: check.id,
    stage,
    status: "graded",
    grade: (graded[decisive] as Judged).grade,
    readings: graded,
    decisive,
  };
}

/** One reading with its band and grade; none, and a problem, where there is nothing to hold it against. */
function judgedOf(reading: Reading, { check, setting, rule, problems }: Case): Judged[] {
  const accepted = bandFor(reading, check, setting);
  if (typeof accepted === "string") {
    problems.push({
      code: "not-applicable",
      path: keyOf(reading),
      expected: "an injection at which the element operates",
      received: accepted,
    });
    return [];
  }
  if (typeof reading.value !== "number")
    return [{ reading, band: accepted, grade: { verdict: "outside" } satisfies NeverOperated }];
  return [{ reading, band: accepted, grade: gradeOf(reading.value, reading, { accepted, rule, problems }) }];
}

function bandFor({ injected }: Reading, { proves, expect, level }: Check, setting: ElementSetting): Band | string {
  if (proves === "pickup" || injected === undefined || injected === level) return expect.band;
  const expected = expectTime(setting, injected);
  return expected.kind === "found" ? expected.band : expected.reason;
}

const RULES: Readonly<Record<DecisionRule, true>> = { simple: true, guarded: true, "three-way": true };

/** In exact decimals: a third of 7 ms, three times, is 7 ms again. */
const expandedOf = ({ standard, coverageFactor }: ReadingUncertainty): Exact =>
  decimal(standard, "standard").times(decimal(coverageFactor, "coverageFactor"));

/** Without an uncertainty the rules that need one leave the reading undecided, and say so. */
function gradeOf(
  value: number,
  reading: Reading,
  { accepted, rule, problems }: { accepted: Band; rule: DecisionRule; problems: Problem[] },
): Grade {
  const { uncertainty } = reading;
  if (rule === "simple") return grade(value, accepted);
  if (uncertainty !== undefined) {
    return grade(value, accepted, { rule, expandedUncertainty: expandedOf(uncertainty) });
  }
  problems.push({
    code: "missing",
    path: keyOf(reading),
    expected: `an uncertainty, which the ${rule} rule needs`,
    received: "a reading without one",
  });
  return { ...grade(value, accepted), verdict: "undecided" };
}

const SEVERITY = { outside: 2, undecided: 1, within: 0 } as const;

function isWorse(a: Judged, b: Judged): boolean {
  const [first, second] = [SEVERITY[a.grade.verdict], SEVERITY[b.grade.verdict]];
  return first !== second ? first > second : shareOf(a) > shareOf(b);
}

/** A reading of "never" is worse than any number. */
const shareOf = ({ grade }: Judged): number =>
  grade.error === undefined ? Number.POSITIVE_INFINITY : (grade.used ?? Math.abs(grade.error));
