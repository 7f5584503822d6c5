/**
 * What do I inject? Levels on an exact decimal grid, ramps and pre-fault to fault sequences, and what a source puts out
 * at any instant.
 *
 * @module timeline
 */

export type { DecimalObject, Exact } from "../base/exact.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type {
  Channel,
  ChannelState,
  ChannelStates,
  Lever,
  Piece,
  Segment,
  Slope,
  Timeline,
  Wiring,
} from "../base/sequence.js";
export type { Degrees, Hertz, Seconds } from "../base/units.js";
export type { Harmonic, Sinusoid } from "../base/waveform.js";
export { type FaultSequence, faultSequence } from "./fault-sequence.js";
export {
  type LevelRange,
  type LinearRamp,
  levels,
  linearRamp,
  type Staircase,
  type StepsWithRest,
  staircase,
  stepsWithRest,
} from "./levels.js";
export { atLevel, type LeverAt, type Ramp, ramp } from "./lever.js";
export { type ChannelAt, type StateAt, stateAt, totalTime } from "./state-at.js";
