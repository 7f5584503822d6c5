import type { Band } from "../base/band.js";
import { fail, list, nameIn, options } from "../base/check.js";
import { decimal, type Exact } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { onOwnData } from "../base/own-data.js";
import type { Problem } from "../base/problem.js";
import { unitOfReading } from "../base/reading-unit.js";
import { type DecisionRule, type Grade, grade } from "../grading/index.js";
import { type Check, type ElementSetting, expectTime, type Plan, type Sheet, settingsOf } from "../plan/index.js";
import type { Case } from "./case.js";
import { checkChanges, notRestored, type TemporaryChange } from "./changes.js";
import { doubtsOf } from "./doubtful.js";
import type { Explanation } from "./explanation.js";
import { checkInstruments, type Instrument, outOfCalibration } from "./instruments.js";
import { givenUpEarly, notTaken, notUsed, startsOf, whyNoReading } from "./no-reading.js";
import { checkPlanOf, notPlanned } from "./plan-of-sheet.js";
import type { ReadingProblem } from "./read-readings.js";
import { checkReading, keyOf, type Reading, type ReadingKey, type ReadingUncertainty, type Stage } from "./reading.js";
import { uncertaintyOf } from "./uncertainty.js";
import type { Judged, TestRecord, Verdict } from "./verdict.js";

/** What the judgement takes into account beside sheet, plan and readings. */
export interface JudgeOptions {
  /** Default: the sheet's own rule, else `simple`. */
  readonly rule?: DecisionRule;
  /** What was wrong with readings that could not be read; carried into the record, and to the verdict of their check. */
  readonly problems?: readonly ReadingProblem[];
  readonly instruments?: readonly Instrument[];
  readonly changes?: readonly TemporaryChange[];
}

/**
 * Judges readings against a plan. Every check of the plan gets a verdict as found, and one as left where there are
 * readings of that; what was not taken is never counted as within.
 *
 * A reading that says what was really injected is judged against the band recomputed for that level; where nothing may
 * happen, quiet at a level further away from the setting than planned is no reading, nor is an operation inside the
 * tolerance. Of several repeats the worst one makes the verdict; all are kept. What another element or another contact did
 * is no reading of the element under check. What can hardly have been so, such as a level beyond the sweep or one that the source
 * cannot make, is judged as it stands and named among the problems; nothing is converted. The uncertainty of a verdict is that of the reading (else of the instrument that
 * it names, else of the source) and, for a time, that of the injected level through the slope of the time law.
 *
 * @throws A {@link InputError} for a plan that is not of this sheet, such as one of an earlier version of it, with the first check
 * that differs; for readings of unknown checks or twice the same, and for a sheet that is not good.
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
 * record.verdicts.map((verdict) => verdict.status); // → ["not-taken", "not-taken", "graded", "impossible"]
 */
export function judge(sheet: Sheet, plan: Plan, readings: readonly Reading[], given: JudgeOptions = {}): TestRecord {
  const { instruments = [], changes = [] } = options(given, ["rule", "problems", "instruments", "changes"]);
  const settings = settingsOf(sheet);
  const rule = nameIn(given.rule ?? settings.decisionRule, RULES, "rule");
  onPlan(() => checkPlanOf(settings, plan));
  onPlan(() => checkReadings(readings, plan));
  checkInstruments(instruments, readings);
  checkChanges(changes);
  const unread = given.problems ?? [];
  const problems: ReadingProblem[] = [
    ...unread,
    ...onPlan(() => notPlanned(sheet, settings, plan)),
    ...outOfCalibration(instruments, readings),
    ...notRestored(changes),
  ];
  const verdicts = onPlan((): Verdict[] => [
    ...plan.checks.flatMap((check) => {
      // Of every check the element is on the sheet: that was looked at first.
      const setting = settings.elements.find(({ id }) => id === check.element) as ElementSetting;
      return stagesOf(check, [...readings, ...unread]).map((stage): Verdict => {
        const isHere = (one: Partial<ReadingKey>) => one.check === check.id && one.stage === stage;
        const around = { check, setting, settings, instruments, rule, problems };
        const startedAt = startsOf(check.element, { stage, readings, plan });
        return verdictOf(readings.filter(isHere), { ...around, stage, startedAt, unread: unread.filter(isHere) });
      });
    }),
    ...plan.impossible.map(
      ({ id, reason }): Verdict => ({ check: id, stage: "as-found", status: "impossible", reason }),
    ),
  ]);
  const explanations: Explanation[] = [];
  return {
    format: "tripwright/record@1",
    sheet,
    plan,
    rule,
    instruments,
    changes,
    verdicts,
    problems,
    explanations,
  };
}

/** Work on a plan that may have been through other hands. */
const onPlan = <T>(work: () => T): T => onOwnData("plan", "a plan, as `plan` makes it", work);

function checkReadings(readings: readonly Reading[], { checks }: Plan): void {
  list(readings, "readings", "a list of readings");
  const seen = new Set<string>();
  [...readings].forEach((reading, i) => {
    within(`readings[${i}]`, () => {
      const check = checks.find(({ id }) => id === reading?.check);
      checkReading(reading, check && unitOfReading(check));
      if (check === undefined) fail("unknown-name", "check", "a check of the plan", reading.check);
      if (seen.has(keyOf(reading))) fail("duplicate", "", "each check, stage and repeat once", keyOf(reading));
      seen.add(keyOf(reading));
    });
  });
}

/** Readings that were given as left, though they could not be used, are no less of that stage. */
const stagesOf = (check: Check, readings: readonly Partial<ReadingKey>[]): Stage[] =>
  readings.some((reading) => reading.check === check.id && reading.stage === "as-left")
    ? ["as-found", "as-left"]
    : ["as-found"];

function verdictOf(taken: readonly Reading[], judged: Case): Verdict {
  const { check, stage } = judged;
  const measured = taken.filter(({ value }) => value !== "not-taken");
  if (measured.length === 0) {
    const note = taken.find((reading) => reading.note !== undefined)?.note;
    const reason = [...notUsed(judged.unread), ...(note === undefined ? [] : [note])].join("; ") || undefined;
    return { check: check.id, stage, status: "not-taken", ...(reason !== undefined && { reason }) };
  }
  for (const reading of taken.filter(({ value }) => value === "not-taken"))
    judged.problems.push({ code: "missing", path: keyOf(reading), expected: "a reading", received: notTaken(reading) });
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
function judgedOf(reading: Reading, judged: Case): Judged[] {
  const { check, problems } = judged;
  const reason = whyNoReading(reading, judged);
  if (reason !== undefined) {
    problems.push({ code: "not-applicable", path: keyOf(reading), ...reason });
    return [];
  }
  if (check.expect.form === "stays-quiet") {
    nameDoubts(reading, judged);
    return [{ reading, grade: { verdict: reading.value === "never" ? "within" : "outside" } }];
  }
  const accepted = bandFor(reading, check.expect.band, judged);
  if (typeof accepted === "string") {
    const expected = "an injection at which the element operates";
    problems.push({ code: "not-applicable", path: keyOf(reading), expected, received: accepted });
    return [];
  }
  nameDoubts(reading, judged, accepted);
  if (typeof reading.value !== "number") {
    const early = givenUpEarly(accepted, check);
    if (early === undefined) return [{ reading, band: accepted, grade: { verdict: "outside" } }];
    problems.push({ code: "not-applicable", path: keyOf(reading), ...early });
    return [];
  }
  const uncertainty = uncertaintyOf(reading, reading.value, judged);
  const known = uncertainty === undefined ? {} : { uncertainty };
  const grade = gradeOf(reading.value, keyOf(reading), { accepted, ...known, ...judged });
  return [{ reading, band: accepted, grade, ...known }];
}

/** The verdict stays what it is. */
function nameDoubts(reading: Reading, judged: Case, accepted?: Band): void {
  for (const doubt of doubtsOf(reading, judged, accepted))
    judged.problems.push({ code: "out-of-range", path: keyOf(reading), ...doubt });
}

function bandFor({ injected }: Reading, planned: Band, { check, setting }: Case): Band | string {
  if (check.proves !== "operate-time" || injected === undefined || injected === check.level) return planned;
  const expected = expectTime(setting, injected);
  return expected.kind === "found" ? expected.band : expected.reason;
}

const RULES: Readonly<Record<DecisionRule, true>> = { simple: true, guarded: true, "three-way": true };

/** In exact decimals: a third of 7 ms, three times, is 7 ms again. */
const expandedOf = ({ standard, coverageFactor }: ReadingUncertainty): Exact =>
  decimal(standard, "standard").times(decimal(coverageFactor, "coverageFactor"));

interface Held {
  readonly accepted: Band;
  readonly uncertainty?: ReadingUncertainty;
  readonly rule: DecisionRule;
  readonly problems: Problem[];
}

/** Without an uncertainty the rules that need one leave the reading undecided, and say so. */
function gradeOf(value: number, path: string, { accepted, uncertainty, rule, problems }: Held): Grade {
  if (rule === "simple") return grade(value, accepted);
  if (uncertainty !== undefined) return grade(value, accepted, { rule, expandedUncertainty: expandedOf(uncertainty) });
  const expected = `an uncertainty, which the ${rule} rule needs`;
  problems.push({ code: "missing", path, expected, received: "a reading without one" });
  return { ...grade(value, accepted), verdict: "undecided" };
}

const SEVERITY = { outside: 2, undecided: 1, within: 0 } as const;

function isWorse(a: Judged, b: Judged): boolean {
  const [first, second] = [SEVERITY[a.grade.verdict], SEVERITY[b.grade.verdict]];
  return first !== second ? first > second : shareOf(a) > shareOf(b);
}

/** A reading of "never" is worse than any number. On the side without a limit, the nearer to the limit the worse. */
function shareOf({ grade, band = { nominal: 0 } }: Judged): number {
  if (grade.error === undefined) return Number.POSITIVE_INFINITY;
  const { low, high } = band;
  const isOneSided = (low === undefined) !== (high === undefined);
  return grade.used ?? (isOneSided ? grade.error * (high === undefined ? -1 : 1) : Math.abs(grade.error));
}
