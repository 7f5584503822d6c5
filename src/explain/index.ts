/**
 * Why is a check off, and which next injection would tell?
 *
 * @module explain
 */

export type { Answer } from "../base/answer.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Check, Plan, Sheet, SheetSource } from "../plan/index.js";
export type { CauseName, ExplainedReading, Explanation, TestRecord } from "../record/index.js";
export { type ExplainOptions, explain } from "./explain.js";
export {
  type ExpectedReading,
  type NextBench,
  type NextInjection,
  type NoInjection,
  nextInjection,
} from "./next-injection.js";
