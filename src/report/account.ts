/** What a record says, check by check, in words: shared by every form in which it is handed over. */
import { list, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import { onOwnData } from "../base/own-data.js";
import { sentence } from "../base/problem.js";
import type { Check, Plan, Sheet } from "../plan/index.js";
import type { TestRecord, Verdict } from "../record/index.js";
import { gradedInWords, type Told } from "./graded.js";
import { expectedInWords, plannedInjection } from "./planned.js";
import { fieldsInWords } from "./typed-in-words.js";

/** The five things that can come of a check. */
export const OUTCOMES = ["within", "outside", "undecided", "not taken", "impossible"] as const;

/** What came of a check, in words. */
export type Outcome = (typeof OUTCOMES)[number];

/** One line of a record. */
export interface Line extends Told {
  readonly id: string;
  readonly element: string;
  readonly stage: string;
  readonly outcome: Outcome;
  /** The injected level moves, as it does for a pickup. */
  readonly sweeps: boolean;
  /** What came of the same check as left, where this is as found and there is both. */
  readonly asLeft?: Outcome;
}

export function outcomeOf(verdict: Verdict): Outcome {
  if (verdict.status === "graded") return verdict.grade.verdict;
  return verdict.status === "not-taken" ? "not taken" : "impossible";
}

/** Work on a record that may have been through other hands. */
export const onRecord = <T>(record: TestRecord, work: (record: TestRecord) => T): T =>
  onOwnData("record", "a record, as `judge` makes it", () => work(checkRecord(record)));

/** Looks at what is to be handed over, before anything is written. */
function checkRecord(record: TestRecord): TestRecord {
  object(record, "record", "a record");
  object(record.sheet, "sheet", "the sheet of a record");
  within("plan", () => checkPlan(object(record.plan, "", "a plan")));
  list(record.verdicts, "verdicts", "a list of verdicts");
  return record;
}

/** The same for a plan. */
export function checkPlan(plan: Plan): Plan {
  object(plan, "plan", "a plan");
  object(plan.about, "about", "which relay it is { substation, feeder, relay }");
  for (const name of ["checks", "impossible", "cautions", "findings"] as const)
    list<unknown>(plan[name], name, "a list, as `plan` makes it");
  return plan;
}

/** How many checks came out how. */
export function countOutcomes({ verdicts }: TestRecord): Readonly<Record<Outcome, number>> {
  const counts = { within: 0, outside: 0, undecided: 0, "not taken": 0, impossible: 0 };
  for (const verdict of verdicts) counts[outcomeOf(verdict)]++;
  return counts;
}

/**
 * `14 checks: 8 within, 4 outside, 0 undecided, 1 not taken, 1 impossible`; a check that was made again as left is one check
 * with two outcomes: `14 checks, 2 again as left: …`.
 */
export function countsInWords(record: TestRecord): string {
  const counts = countOutcomes(record);
  const again = record.verdicts.filter(({ stage }) => stage === "as-left").length;
  const length = record.verdicts.length - again;
  const twice = again === 0 ? "" : `, ${again} again as left`;
  return `${length} ${length === 1 ? "check" : "checks"}${twice}: ${OUTCOMES.map((outcome) => `${counts[outcome]} ${outcome}`).join(", ")}`;
}

export const checkOf = ({ checks }: Plan, id: string): Check | undefined => checks.find((check) => check.id === id);

/** The account of every verdict, in the order of the record. */
export function linesOf({ verdicts, plan }: TestRecord): Line[] {
  const left = new Map(verdicts.filter(({ stage }) => stage === "as-left").map((verdict) => [verdict.check, verdict]));
  return verdicts.map((verdict) => {
    const later = verdict.stage === "as-found" ? left.get(verdict.check) : undefined;
    return { ...lineOf(verdict, plan), ...(later && { asLeft: outcomeOf(later) }) };
  });
}

/** What is off, and whether it still was as left. */
export const remarkInFull = ({ remark, asLeft }: Line): string =>
  [remark, asLeft === undefined ? "" : `as left ${asLeft}`].filter((part) => part !== "").join("; ");

function lineOf(verdict: Verdict, plan: Plan): Line {
  const check = checkOf(plan, verdict.check);
  const element = check?.element ?? plan.impossible.find(({ id }) => id === verdict.check)?.element ?? "";
  const line = {
    id: verdict.check,
    element,
    stage: verdict.stage,
    outcome: outcomeOf(verdict),
    sweeps: check?.sweep !== undefined,
  };
  if (verdict.status === "graded" && check !== undefined) return { ...line, ...gradedInWords(verdict, check) };
  const { reason } = verdict as { readonly reason?: string };
  const nothing = { measured: "—", error: "—", used: "—", remark: reason ?? "no reason given", noted: reason ?? "" };
  if (check === undefined) return { ...line, injected: "—", expected: "—", ...nothing };
  return {
    ...line,
    injected: plannedInjection(check),
    expected: expectedInWords(check),
    ...nothing,
  };
}

/** The settings of an element as they are written on the sheet, in the order of the sheet. */
export function settingInWords({ elements }: Sheet, id: string): string {
  const element = elements.find((candidate) => candidate.id === id);
  const { id: _, accuracy: __, ...written } = element ?? { id, accuracy: undefined };
  return fieldsInWords(written);
}

/** Readings that could not be used, each with its line. */
export const problemsInWords = ({ problems }: TestRecord): string[] =>
  problems.map(({ check, ...problem }) =>
    sentence({ ...problem, path: [check, problem.path].filter((part) => part).join(", ") }),
  );

/** The settings that make no sense together, in words. */
export const findingsInWords = ({ findings }: Plan): string[] => findings.map(sentence);

/** The decision rule in words. */
export const RULE_IN_WORDS = {
  simple: "Simple acceptance: a reading on or inside the limits is within, whatever its uncertainty.",
  guarded:
    "Guarded acceptance: the limits are drawn in by the expanded uncertainty of each reading; what is not inside them is outside.",
  "three-way":
    "Three-way: within where the reading lies inside the limits by at least its expanded uncertainty, outside where it lies beyond them by more than that, undecided between.",
} as const;

/**
 * Text on one line: a name or a note cannot begin a line of its own, send commands to a terminal, or turn the direction
 * of what follows it.
 */
export const oneLine = (text: string): string =>
  text.replace(/[\p{Cc}\u2028\u2029]+/gu, " ").replace(/[\u202a-\u202e\u2066-\u2069]/gu, "");
