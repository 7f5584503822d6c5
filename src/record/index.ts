/**
 * What was measured against each check, and with what verdict?
 *
 * @module record
 */

export type { Band } from "../base/band.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Seconds } from "../base/units.js";
export type { DecisionRule, Grade } from "../grading/index.js";
export type { Plan, Sheet } from "../plan/index.js";
export type { TemporaryChange } from "./changes.js";
export type { CauseName, ExplainedReading, Explanation } from "./explanation.js";
export type { Instrument } from "./instruments.js";
export { type JudgeOptions, judge } from "./judge.js";
export {
  checkOnLoad,
  expectOnLoad,
  type Load,
  type LoadCheck,
  type LoadLine,
  type LoadPhasor,
  type LoadTolerance,
} from "./on-load.js";
export { type ReadingProblem, type ReadReadings, readReadings } from "./read-readings.js";
export type { Reading, ReadingKey, ReadingUncertainty, Stage } from "./reading.js";
export type {
  GradedVerdict,
  ImpossibleVerdict,
  Judged,
  NotTaken,
  TestRecord,
  Unmeasured,
  Verdict,
} from "./verdict.js";
