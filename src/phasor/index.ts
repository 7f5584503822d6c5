/**
 * How do these quantities relate? Complex arithmetic, angles, symmetrical components, power, short circuits, per unit,
 * phasors as text and in batches, and the two sides of instrument transformers.
 *
 * @module phasor
 */
export type { Answer } from "../base/answer.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Degrees } from "../base/units.js";
export { angleBetween, type Directions, type MeanAngle, meanAngle, unwrapAngles } from "./angles.js";
export { add, conjugate, divide, multiply, negate, rotate, scale, subtract } from "./arithmetic.js";
export { componentsAll, multiplyAll, toPolarAll } from "./batches.js";
export { type ComplexPower, complexPower } from "./complex-power.js";
export { fromComponents, type SequenceComponents, toComponents } from "./components.js";
export { formatPolar, type PolarFormat } from "./format-polar.js";
export { deltaToWyeImpedance, wyeToDeltaImpedance } from "./impedance.js";
export { type LineToNeutral, lineToLine, lineToNeutral } from "./line-to-line.js";
export { type AngleRange, normalizeAngle } from "./normalize-angle.js";
export { type ParsedPhasor, parsePolar } from "./parse-polar.js";
export { type ChangeOfBase, changeBase, fromPerUnit, type PerUnitBase, type PerUnitKind, perUnit } from "./per-unit.js";
export type { PhasePairs, Phases, Rotation } from "./phases.js";
export type { Phasor } from "./phasor.js";
export { angle, magnitude, polar, rect } from "./polar.js";
export {
  type PhasesAndSequences,
  type ShortCircuit,
  type ShortCircuitInputs,
  type ShortCircuitType,
  shortCircuit,
} from "./short-circuit.js";
export { threePhase } from "./three-phase.js";
export { type TransformerRatio, type Transformers, toPrimary, toSecondary } from "./transformer.js";
export { type UnbalanceDefinition, type UnbalanceInputs, unbalance } from "./unbalance.js";
