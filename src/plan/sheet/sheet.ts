/** The setting sheet as people type it: SI numbers, or text with a unit. */
import type { CurveName, InverseCurve, UnderCurve } from "../../curve/index.js";
import type { DecisionRule } from "../../grading/index.js";

/** A value as typed: a number in SI units, or text such as `"4 A"`, `"250 ms"`, `"12 cycles"`, `"0.8 × rated"`. */
export type Typed = number | string;

/** A published tolerance as typed. Absolute parts are values at the relay (secondary), as accuracies are published. */
export interface TypedTolerance {
  /** `5` or `"5 %"`. */
  readonly percent?: Typed | undefined;
  readonly absolute?: Typed | undefined;
  readonly combine?: "greater" | "sum" | undefined;
  /** `"high"` where only an upper limit is declared ("at most 40 ms"). */
  readonly side?: "both" | "low" | "high" | undefined;
}

/** What every function on a sheet has. */
export interface SheetElementCommon {
  /** The name of the element, such as `"51P"`; unique on the sheet. */
  readonly id: string;
  /** `false`: switched off in the relay; it is neither checked nor in the way. Default `true`. */
  readonly enabled?: boolean | undefined;
  readonly pickup: Typed;
  /** The contact that operates after the time law. Default `"trip"`. */
  readonly contact?: string | undefined;
  /** The contact that follows the start without delay, where the relay offers one. */
  readonly startContact?: string | undefined;
  /** How long the function takes to respond apart from its time law. Default 2 cycles, frequency functions 8. */
  readonly measuringDelay?: Typed | undefined;
  readonly accuracy: { readonly pickup: TypedTolerance; readonly time: TypedTolerance };
  /** A definite time. Either this or a curve; function 50 may have neither. */
  readonly delay?: Typed | undefined;
  /** An inverse time: the name of a standard curve, or constants. */
  readonly curve?: CurveName | InverseCurve | UnderCurve | undefined;
  /** Time multiplier of the curve (IEC TMS, IEEE time dial). Default 1. */
  readonly multiplier?: number | undefined;
  /** The curve starts only beyond this ratio to the setting. Default 1. */
  readonly startRatio?: number | undefined;
  /** The curve goes flat above this multiple. */
  readonly ceilingMultiple?: number | undefined;
  /** The curve's time is never below this. */
  readonly minimumTime?: Typed | undefined;
  /** Added to the time law, where the expected operate time contains it. */
  readonly addedTime?: Typed | undefined;
}

/** Overcurrent on a sheet. */
export interface SheetCurrentElement extends SheetElementCommon {
  readonly function: "50" | "51";
  readonly watches?: "phase" | undefined;
}

/** Under- and overvoltage on a sheet. */
export interface SheetVoltageElement extends SheetElementCommon {
  readonly function: "27" | "59";
  readonly watches: "line-to-line" | "line-to-neutral";
  /** Default `"any"`. */
  readonly phases?: "any" | "all" | undefined;
  readonly blockBelow?: Typed | undefined;
}

/** Over- and underfrequency on a sheet. */
export interface SheetFrequencyElement extends SheetElementCommon {
  readonly function: "81O" | "81U";
  readonly watches?: "frequency" | undefined;
  /** Blocked below this voltage to neutral. */
  readonly blockBelow?: Typed | undefined;
}

/** One function on a sheet. */
export type SheetElement = SheetCurrentElement | SheetVoltageElement | SheetFrequencyElement;

/** What the test source at hand offers. */
export interface SheetSource {
  /** Default 3. */
  readonly currentChannels?: 1 | 3 | undefined;
  /** Default 3. */
  readonly voltageChannels?: 1 | 3 | undefined;
  /** The most that one channel can put out, rms; absent: not checked. */
  readonly maximumCurrent?: Typed | undefined;
  readonly maximumVoltage?: Typed | undefined;
}

/** A setting sheet, read and found good; the values are still as typed. */
export interface Sheet {
  readonly format: "tripwright/sheet@1";
  /** For editors only. */
  readonly $schema?: string | undefined;
  readonly substation: string;
  readonly feeder: string;
  /** The relay's designation. */
  readonly relay: string;
  readonly note?: string | undefined;
  readonly frequency: Typed;
  /** Default `"ABC"`. */
  readonly rotation?: "ABC" | "ACB" | undefined;
  /** On which side of the instrument transformers the settings are written. Accuracies and the source are always secondary. */
  readonly values: "primary" | "secondary";
  /** Current transformer ratio, such as `"400/5"`; its secondary is the rated current. */
  readonly ct?: string | undefined;
  /** Voltage transformer ratio, line to line, such as `"11 kV/110 V"`; its secondary is the rated voltage. */
  readonly vt?: string | undefined;
  readonly source?: SheetSource | undefined;
  /** How measurement uncertainty enters the verdicts. Default `"simple"`. */
  readonly decisionRule?: DecisionRule | undefined;
  readonly elements: readonly SheetElement[];
}
