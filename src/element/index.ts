/**
 * When does a protective function operate, given its inputs? Functions by IEEE C37.2 number: settings as data,
 * definitions as code.
 *
 * @module element
 */

export type { Answer } from "../base/answer.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { ChannelState, ChannelStates, Lever, Lift, Wiring } from "../base/sequence.js";
export type { Amperes, Degrees, Hertz, HertzPerSecond, Ohms, Seconds, Volts, Watts } from "../base/units.js";
export type { Circle, Point, Polarising, Polygon, Region, Restraint, RestraintSlope } from "../characteristic/index.js";
export type { CurveSetting } from "../curve/index.js";
export type { Tolerance } from "../grading/index.js";
export type { Phasor, Rotation } from "../phasor/index.js";
export { checkedDefinition } from "./check-setting.js";
export { definiteTimeOf } from "./definite-time.js";
export type {
  Definition,
  Doubt,
  Edge,
  LevelUnit,
  LimitAccuracy,
  Observation,
  OwnField,
  Plane,
  Pose,
  Practice,
  Still,
  SystemField,
} from "./definition.js";
export { definitionOf, functionNumbers } from "./definition-of.js";
export type { DifferentialFields, Zone, ZoneSide } from "./differential-setting.js";
export type { DistanceZone, EarthReturn } from "./distance-setting.js";
export { distanceZone } from "./distance-zone.js";
export { dropoutLevel, startLevel } from "./dropout.js";
export { type InputState, inputsOf, type RelayInputs } from "./inputs.js";
export { lawOf } from "./law-of.js";
export { operateTimeOf } from "./operate-time-of.js";
export { standingAt } from "./poses.js";
export type {
  Accuracy,
  CommonSetting,
  DifferentialSetting,
  DirectionalSetting,
  Distance,
  DistanceSetting,
  EarthFaultSetting,
  ElementSetting,
  FrequencyRateSetting,
  FrequencySetting,
  FunctionNumber,
  NegativeSequenceCurrentSetting,
  NegativeSequenceVoltageSetting,
  OvercurrentSetting,
  PowerSetting,
  ResidualVoltageSetting,
  SettingOf,
  SynchronismSetting,
  ThermalSetting,
  UndercurrentSetting,
  UnrestrainedDifferentialSetting,
  VoltageSetting,
  VoltsPerHertzSetting,
} from "./setting.js";
export { type Bench, healthy, type Setup } from "./setup.js";
