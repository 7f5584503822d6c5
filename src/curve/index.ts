/**
 * How long until it operates? Inverse-time characteristics as data and their operate times.
 *
 * A curve is the pure equation unless the setting says otherwise: no ceiling, no floor, nothing added.
 *
 * @module curve
 */

export type { Answer } from "../base/answer.js";
export type { Band } from "../base/band.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Piece } from "../base/sequence.js";
export type { Amperes, Percent, Seconds } from "../base/units.js";
export { advance, type Step } from "./advance.js";
export {
  type Coordination,
  type CurrentRange,
  coordinationMargin,
  type MarginPoint,
  type SeriesRelay,
  type TwoRelays,
} from "./coordination.js";
export type {
  Curve,
  CurveName,
  CurveSetting,
  DefiniteCurve,
  EnergyCurve,
  ExcessCurve,
  InverseCurve,
  Reset,
  TableCurve,
  ThermalCurve,
  UnderCurve,
} from "./curve.js";
export { type FitOptions, fitCurve } from "./fit-curve.js";
export type { TimedInjection } from "./fit-points.js";
export type { CurveFit, FitUncertainties, NoCurveFit, NoCurveFitReason } from "./fit-result.js";
export { curveSide } from "./form.js";
export { multipleForTime, type NoMultiple } from "./multiple-for-time.js";
export { multiplierForMargin, type NoMarginMultiplier, type WantedMargin } from "./multiplier-for-margin.js";
export { multiplierForTime, type NoMultiplier, type WantedPoint } from "./multiplier-for-time.js";
export { type OperateInstant, operateInstant } from "./operate-instant.js";
export { operateInstantOfSamples, type Sampling } from "./operate-instant-of-samples.js";
export { type History, operateTime } from "./operate-time.js";
export { operateTimes } from "./operate-times.js";
export { type MarginAllowance, requiredMargin, usualAllowance } from "./required-margin.js";
export { resetTime } from "./reset.js";
export { curveNames, standardCurve } from "./standard.js";
export {
  type AssignedError,
  type ClassIndex,
  type ConstantError,
  type ErrorFactor,
  errorFactors,
  type TimeRule,
  timeBand,
} from "./time-band.js";
export type { TravelState } from "./travel-state.js";
