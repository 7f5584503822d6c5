/**
 * What would a relay with these settings (and these errors) do under this sequence? Event by event, with thresholds inside
 * ramps solved: the check on a plan, and a stand-in for a relay where there is none.
 *
 * @module rehearsal
 */

export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { ChannelStates, Lever, Timeline, Wiring } from "../base/sequence.js";
export type { Seconds } from "../base/units.js";
export type { ElementSetting } from "../element/index.js";
export type { Sheet } from "../sheet/index.js";
export type { Trial } from "../timeline/index.js";
export type { ElementError, RehearsalOptions, RelayErrors } from "./errors.js";
export { type Rehearsal, rehearse } from "./rehearse.js";
export {
  type RehearsedCheck,
  type RehearsedPlan,
  type RehearsedReading,
  rehearsePlan,
} from "./rehearse-plan.js";
export { type RehearsedSource, rehearsedSource } from "./rehearsed-source.js";
export type { Happening, RehearsedStep } from "./relay-state.js";
export type { ElementEvent, RehearsedEvent } from "./run.js";
