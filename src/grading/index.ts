/**
 * Is it good enough? Tolerances, bands, verdicts and rounding, exact at the limit.
 *
 * @module grading
 */

export type { Band } from "../base/band.js";
export type { DecimalObject, Exact } from "../base/exact.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Percent } from "../base/units.js";
export { type BandOptions, band } from "./band.js";
export { type DecisionRule, type Grade, type GradeOptions, grade } from "./grade.js";
export { type GradeAllOptions, gradeAll, verdicts } from "./grade-all.js";
export type { Guarding, GuardName } from "./guard.js";
export { type Rounding, roundTo } from "./round-to.js";
export type { LopsidedTolerance, Tolerance } from "./tolerance.js";
