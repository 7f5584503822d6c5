/**
 * When does a protective function operate, given its inputs? Functions by IEEE C37.2 number: settings as data,
 * definitions as code.
 *
 * @module element
 */

export type { Answer } from "../base/answer.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { ChannelState, ChannelStates, Lever, Wiring } from "../base/sequence.js";
export type { Amperes, Hertz, Seconds, Volts } from "../base/units.js";
export type { CurveSetting } from "../curve/index.js";
export type { Tolerance } from "../grading/index.js";
export type { Phasor } from "../phasor/index.js";
export type { Definition, Distance, Observation, Pose, Practice } from "./definition.js";
export { definitionOf, functionNumbers, operateTimeOf } from "./definition-of.js";
export { type InputState, inputsOf, type RelayInputs } from "./inputs.js";
export type {
  Accuracy,
  CommonSetting,
  CurrentSetting,
  ElementSetting,
  FrequencySetting,
  FunctionNumber,
  SettingOf,
  VoltageSetting,
} from "./setting.js";
export { type Bench, healthy, type Setup } from "./setup.js";
