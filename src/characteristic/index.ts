/**
 * Where does a function of two or three quantities operate? Regions of a plane with the distance to their boundary, and
 * what puts a relay at a point: distance zones and loops, directions, differential characteristics, vector groups,
 * synchronism.
 *
 * @module characteristic
 */

export type { Answer } from "../base/answer.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Degrees, Hertz, Seconds, Volts } from "../base/units.js";
export type { Phases, Phasor, Rotation } from "../phasor/index.js";
export { boundaryAlong, type Ray } from "./boundary-along.js";
export {
  type DifferentialCharacteristic,
  differentialCurrents,
  differentialPoint,
  differentialRegion,
  type Restraint,
  type RestraintSlope,
} from "./differential.js";
export {
  comparedOf,
  type DirectionalInputs,
  type DirectionalLimits,
  type DirectionalQuantities,
  directionalProduct,
  directionalSector,
  type Polarising,
} from "./directional.js";
export { distanceTo, heightAt } from "./distance-to.js";
export { type Mho, mho, type Quadrilateral, quadrilateral } from "./distance-zones.js";
export {
  type EarthRatios,
  earthFactor,
  earthFactorOfRatios,
  earthRatios,
  type LineImpedances,
} from "./earth-factor.js";
export { type FaultState, faultAt, type WantedFault } from "./fault-at.js";
export { type Loop, type LoopMeasurement, type LoopQuantities, loopImpedance, loopQuantities } from "./loops.js";
export { type OutlineOptions, outlineOf } from "./outline-of.js";
export type { Above, Circle, Point, Polygon, Region, Sector } from "./region.js";
export { advanceAngle, mostSlip, type VoltagesApart, voltagesApart } from "./synchronism.js";
export {
  type Compensation,
  compensated,
  lagOfClock,
  ratedSecondaryCurrent,
  type TransformerSide,
} from "./vector-group.js";
export { mhoShare, quadrilateralShare } from "./zone-share.js";
