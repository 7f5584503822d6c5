/**
 * Given this sheet, which checks, with what injected, expected, accepted?
 *
 * @module plan
 */

export type { Answer } from "../base/answer.js";
export type { Band } from "../base/band.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { ChannelState, ChannelStates, Segment, Timeline, Wiring } from "../base/sequence.js";
export type { Amperes, Hertz, Seconds, Volts } from "../base/units.js";
export type { CurveName, EnergyCurve, ExcessCurve, InverseCurve, TableCurve, UnderCurve } from "../curve/index.js";
export type { ElementSetting, FunctionNumber, Setup } from "../element/index.js";
export type { DecisionRule } from "../grading/index.js";
export * from "../sheet/index.js";
export type { Alternative, Check, Expected, Impossible, Plan, Proves, Sweep, Unit } from "./check.js";
export { type Expectation, expectDropout, expectPickup, expectTime, latestStart } from "./expect.js";
export { plan } from "./plan.js";
export { type PlannedSheet, planEach } from "./plan-each.js";
export { type PutOut, sourceErrors } from "./source-error.js";
export { type LevelOfCheck, sourceErrorsOf } from "./source-error-of.js";
export { type TimedPlace, timedAt } from "./timed-at.js";
