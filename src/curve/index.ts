/**
 * How long until it operates? Inverse-time characteristics as data and their operate times.
 *
 * A curve is the pure equation unless the setting says otherwise: no ceiling, no floor, nothing added.
 *
 * @module curve
 */

export type { Answer } from "../base/answer.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Piece } from "../base/sequence.js";
export type { Seconds } from "../base/units.js";
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
export { curveSide } from "./form.js";
export { multipleForTime, type NoMultiple } from "./multiple-for-time.js";
export { multiplierForTime, type NoMultiplier, type WantedPoint } from "./multiplier-for-time.js";
export { advance, type OperateInstant, operateInstant, type Step } from "./operate-instant.js";
export { operateInstantOfSamples, type Sampling } from "./operate-instant-of-samples.js";
export { type History, operateTime } from "./operate-time.js";
export { operateTimes } from "./operate-times.js";
export { resetTime } from "./reset.js";
export { curveNames, standardCurve } from "./standard.js";
export type { TravelState } from "./travel-state.js";
