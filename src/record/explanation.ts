/** Why a check may be off: what `explain` finds, and what a record carries for the person who has to look. */
import type { ReadingKey, Stage } from "./reading.js";

/** Which possible cause it is; `unexplained` where nothing that was tried explains the readings. */
export type CauseName =
  | "pickup-setting"
  | "time-multiplier"
  | "delay-setting"
  | "dropout-setting"
  | "another-curve"
  | "ceiling"
  | "minimum-time"
  | "ct-secondary"
  | "ct-tap"
  | "primary-for-secondary"
  | "line-to-line"
  | "peak-for-rms"
  | "average-meter"
  | "source-gain"
  | "source-offset"
  | "ramp-too-fast"
  | "timer-from-prefault"
  | "breaker-time"
  | "cycles-for-seconds"
  | "other-frequency"
  | "disk-not-reset"
  | "rotation-reversed"
  | "polarity-reversed"
  | "currents-reversed"
  | "direction-setting"
  | "characteristic-angle"
  | "sector-limit"
  | "blocking-level"
  | "arming-level"
  | "neighbour-first"
  | "drift"
  | "unexplained";

/** What one reading says of an explanation. */
export interface ExplainedReading extends ReadingKey {
  readonly measured: number | "never" | "operated";
  /** What would be read if the explanation were true. */
  readonly predicted: number | "never" | "operated";
  /** How far the reading lies from the sheet as it stands, and from the explanation, in standard uncertainties. */
  readonly offBefore: number;
  readonly offAfter: number;
  /** It comes nearer by more than one standard uncertainty, goes further off or stays out of reach, or neither. */
  readonly bearing: "supports" | "contradicts" | "neutral";
}

/** One possible reason why an element is off, with how well it fits. A possibility to be checked, never an instruction. */
export interface Explanation {
  readonly element: string;
  readonly stage: Stage;
  readonly cause: CauseName;
  /** Which of several ways, such as the name of a curve. */
  readonly which?: string;
  /** 1 for the best of this element and stage. */
  readonly rank: number;
  /** It leads, or the readings do not tell it from what leads. */
  readonly leading: boolean;
  /** It leaves no reading of the element further off than chance allows. */
  readonly complete: boolean;
  /** What may be the case, in words. */
  readonly says: string;
  /** What to look at, in words. */
  readonly lookAt: string;
  /**
   * What was estimated from the readings, where something was. Where they fit any value of a range alike, `from` and `to` say
   * which, and the value stands for all of it.
   */
  readonly estimate?: {
    readonly name: string;
    readonly value: number;
    readonly unit: string;
    readonly from?: number;
    readonly to?: number;
  };
  /** χ² of all readings of the stage, with the sheet as it stands and with the explanation. */
  readonly misfitBefore: number;
  readonly misfit: number;
  /** By how much χ² has to fall for an explanation to count; also the width of a tie. */
  readonly threshold: number;
  /** How many ways were tried; the threshold is corrected for them. */
  readonly tried: number;
  /** Readings of the element, and those of other elements that the explanation touches. */
  readonly readings: readonly ExplainedReading[];
}
