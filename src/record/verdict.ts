import type { Band } from "../base/band.js";
import type { DecisionRule, Grade } from "../grading/index.js";
import type { Plan, Sheet } from "../plan/index.js";
import type { TemporaryChange } from "./changes.js";
import type { Explanation } from "./explanation.js";
import type { Instrument } from "./instruments.js";
import type { ReadingProblem } from "./read-readings.js";
import type { Reading, ReadingUncertainty, Stage } from "./reading.js";

/**
 * The grade of a reading without a number: outside where nothing operated that should have, or something did that should
 * have stayed quiet; within where it stayed quiet. There is no error to state.
 */
export interface Unmeasured {
  readonly verdict: "within" | "outside";
  readonly error?: undefined;
}

/** A reading with the band it was held against and what came of it. */
export interface Judged {
  readonly reading: Reading;
  /** Recomputed where the reading says what was really injected; absent where nothing may happen at all. */
  readonly band?: Band;
  readonly grade: Grade | Unmeasured;
  /** The uncertainty that the verdict was made with, that of the injection included. */
  readonly uncertainty?: ReadingUncertainty;
}

/** A verdict from readings. */
export interface GradedVerdict {
  readonly check: string;
  readonly stage: Stage;
  readonly status: "graded";
  /** That of the decisive reading. */
  readonly grade: Grade | Unmeasured;
  readonly readings: readonly Judged[];
  /** Which of the readings is the worst one, from 0; it makes the verdict. */
  readonly decisive: number;
}

/** A check that nobody made. */
export interface NotTaken {
  readonly check: string;
  readonly stage: Stage;
  readonly status: "not-taken";
  readonly reason?: string;
}

/** A check that cannot be made. */
export interface ImpossibleVerdict {
  readonly check: string;
  readonly stage: Stage;
  readonly status: "impossible";
  readonly reason: string;
}

/** What came of one check at one stage. */
export type Verdict = GradedVerdict | NotTaken | ImpossibleVerdict;

/** Sheet, plan, verdicts and what was wrong on the way: everything that another engineer needs to check it. */
export interface TestRecord {
  readonly format: "tripwright/record@1";
  readonly sheet: Sheet;
  readonly plan: Plan;
  readonly rule: DecisionRule;
  readonly instruments: readonly Instrument[];
  /** What was blocked or changed for the work, and how it was brought back. */
  readonly changes: readonly TemporaryChange[];
  readonly verdicts: readonly Verdict[];
  readonly problems: readonly ReadingProblem[];
  /** Why checks may be off, as far as `explain` was asked; `judge` leaves it empty. */
  readonly explanations: readonly Explanation[];
}
