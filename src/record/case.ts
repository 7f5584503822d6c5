import type { Problem } from "../base/problem.js";
import type { DecisionRule } from "../grading/index.js";
import type { Check, ElementSetting, RelaySettings } from "../plan/index.js";
import type { Instrument } from "./instruments.js";
import type { ReadingProblem } from "./read-readings.js";
import type { Stage } from "./reading.js";

/** What is known around the readings of one check at one stage. */
export interface Case {
  readonly check: Check;
  readonly stage: Stage;
  /** Of the element under check, and of its relay. */
  readonly setting: ElementSetting;
  readonly settings: RelaySettings;
  readonly instruments: readonly Instrument[];
  readonly rule: DecisionRule;
  /** At which levels the element was seen to start, at this stage. */
  readonly startedAt: readonly number[];
  /** What was given for this check at this stage, and could not be read. */
  readonly unread: readonly ReadingProblem[];
  /** What goes wrong on the way is added here. */
  readonly problems: Problem[];
}
