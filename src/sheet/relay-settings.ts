import type { Amperes, Volts } from "../base/units.js";
import type { ElementSetting, LevelUnit, Setup } from "../element/index.js";
import type { DecisionRule, Tolerance } from "../grading/index.js";
import type { InputRatings } from "../timeline/index.js";

/** A relay's settings as numbers: secondary, SI units. */
export interface RelaySettings {
  readonly setup: Setup;
  /** What one channel of the source can put out at most; absent: not known. */
  readonly limits: { readonly current?: Amperes; readonly voltage?: Volts };
  /** What the source may be off, by the unit of a level; absent: taken as nothing. */
  readonly sourceAccuracy: { readonly [U in LevelUnit | "s"]?: Tolerance };
  /** What the inputs stand; what is absent is not checked. */
  readonly inputRatings: InputRatings;
  readonly decisionRule: DecisionRule;
  /** Primary over secondary value of what an element watches, by its id; absent where no transformer lies between. */
  readonly toPrimary: { readonly [id: string]: number };
  /** The elements that are switched on, in the order of the sheet. */
  readonly elements: readonly ElementSetting[];
}
