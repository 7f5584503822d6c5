/**
 * Why is a check off, and which next injection would tell?
 *
 * @module explain
 */

export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { CauseName, ExplainedReading, Explanation, TestRecord } from "../record/index.js";
export { type ExplainOptions, explain } from "./explain.js";
