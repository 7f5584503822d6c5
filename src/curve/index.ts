/**
 * How long until it operates? Inverse-time characteristics as data and their operate times.
 *
 * A curve is the pure equation unless the setting says otherwise: no ceiling, no floor, nothing added.
 *
 * @module curve
 */
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Seconds } from "../base/units.js";
export type { Curve, CurveName, CurveSetting, DefiniteCurve, InverseCurve, UnderCurve } from "./curve.js";
export { curveSide } from "./form.js";
export { operateTime } from "./operate-time.js";
export { curveNames, standardCurve } from "./standard.js";
