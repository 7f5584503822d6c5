/**
 * What do I inject? Levels on an exact decimal grid, ramps and pre-fault to fault sequences, and what a source puts out
 * at any instant; and what became of a sequence, given what the contacts did.
 *
 * @module timeline
 */

export type { Band } from "../base/band.js";
export type { DecimalObject, Exact } from "../base/exact.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type {
  Channel,
  ChannelState,
  ChannelStates,
  ContactChange,
  Lever,
  Piece,
  Segment,
  Slope,
  Timeline,
  Wiring,
} from "../base/sequence.js";
export type { Degrees, Hertz, Seconds } from "../base/units.js";
export type { Harmonic, Sinusoid } from "../base/waveform.js";
export { atLevel, type LeverAt } from "./at-level.js";
export type { SourceLimit } from "./beyond-limits.js";
export {
  type BreakerFailureCourse,
  type BreakerFailureSequence,
  breakerFailureSequence,
} from "./breaker-failure-sequence.js";
export { checkInput, type InputCheck, type InputExceedance, type InputReached } from "./check-input.js";
export { checkSource, type SourceCheck, type SourceExceedance } from "./check-source.js";
export {
  type ChosenLinear,
  type ChosenStaircase,
  chooseRamp,
  type LinearWish,
  type StaircaseWish,
} from "./choose-ramp.js";
export type { ContactEvent } from "./contacts.js";
export type { Threshold } from "./crossing.js";
export type { ExpectedContact, TimeTolerance } from "./expected-contact.js";
export { type FaultSequence, faultSequence } from "./fault-sequence.js";
export type { Inception } from "./inception.js";
export type { InputRating, InputRatings } from "./input-rating.js";
export { joinTimelines, type Repetition, repeatTimeline } from "./join-timelines.js";
export type { InputUnit, RatingName } from "./judge-input.js";
export { type LevelGrid, type LevelRange, levelGrid, levels } from "./levels.js";
export type { Operation } from "./operations.js";
export type { PickupSearch } from "./pickup-search.js";
export {
  type LinearRamp,
  linearRamp,
  type Staircase,
  type StepsWithRest,
  staircase,
  stepsWithRest,
} from "./pieces.js";
export { type Ramp, ramp } from "./ramp.js";
export { type DelayRange, type MovingLevel, type RampError, rampError } from "./ramp-error.js";
export {
  type HeldState,
  type RecloseCourse,
  type RecloseSequence,
  recloseSequence,
} from "./reclose-sequence.js";
export { type RenderChunksOptions, type RenderOptions, render, renderChunks } from "./render.js";
export type { Trial } from "./search-way.js";
export {
  type FoundDropout,
  type FoundPickup,
  mostInjections,
  type NextTrial,
  nextTrial,
  type PickupAnswer,
  seekPickup,
} from "./seek-pickup.js";
export type { ChannelLimits, Duty, SourceLimits } from "./source-limits.js";
export { type ChannelAt, type HarmonicAt, type StateAt, stateAt, totalTime } from "./state-at.js";
export { type StepBy, type Stepped, stepBy } from "./step-by.js";
export { type ThereAndBack, thereAndBack } from "./there-and-back.js";
export { type Int16Scale, toInt16 } from "./to-int16.js";
export { type Walk, type WalkedState, type WalkOptions, walk } from "./walk.js";
