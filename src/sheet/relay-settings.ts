import type { Exact } from "../base/exact.js";
import type { ElementSetting, LevelUnit, Setup } from "../element/index.js";
import type { DecisionRule, Tolerance } from "../grading/index.js";
import type { InputRatings, SourceLimits } from "../timeline/index.js";

/** The same data with numbers where people may type decimals. */
export type InNumbers<T> = Exact extends T
  ? number
  : T extends number | string | undefined
    ? T
    : { readonly [K in keyof T]: InNumbers<T[K]> };

/** A relay's settings as numbers: secondary, SI units. */
export interface RelaySettings {
  readonly setup: Setup;
  /** What the channels of the source can put out; what is absent is not checked. */
  readonly sourceLimits: InNumbers<SourceLimits>;
  /** What the source may be off, by the unit of a level; absent: taken as nothing. */
  readonly sourceAccuracy: { readonly [U in LevelUnit | "s"]?: Tolerance };
  /** What the inputs stand; what is absent is not checked. */
  readonly inputRatings: InNumbers<InputRatings>;
  readonly decisionRule: DecisionRule;
  /** On which side of the transformers the sheet is written; the numbers here are secondary either way. */
  readonly writtenIn: "primary" | "secondary";
  /** Primary over secondary of the current and voltage transformers, as far as the sheet names them. */
  readonly ratios: { readonly ct?: number; readonly vt?: number };
  /** Primary over secondary value of what an element watches, by its id; absent where no transformer lies between. */
  readonly toPrimary: { readonly [id: string]: number };
  /** The same of currents of the second side of a differential zone; absent where no element watches one. */
  readonly toPrimaryOfSecond?: number;
  /** The elements that are switched on, in the order of the sheet. */
  readonly elements: readonly ElementSetting[];
}
