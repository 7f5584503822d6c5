/**
 * How do these quantities relate? Complex arithmetic, angles, and the two sides of instrument transformers.
 *
 * @module phasor
 */
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Degrees } from "../base/units.js";
export { add, conjugate, divide, multiply, negate, rotate, scale, subtract } from "./arithmetic.js";
export { type AngleRange, normalizeAngle } from "./normalize-angle.js";
export type { Phasor } from "./phasor.js";
export { angle, magnitude, polar, rect } from "./polar.js";
export { type TransformerRatio, type Transformers, toPrimary, toSecondary } from "./transformer.js";
