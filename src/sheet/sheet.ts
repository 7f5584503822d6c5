/** The setting sheet as people type it: SI numbers, or text with a unit. */
import type { DecisionRule } from "../grading/index.js";
import type { SheetZone } from "./sheet-differential.js";
import type { SheetElementCommon } from "./sheet-element.js";
import type {
  SheetDifferentialElement,
  SheetDirectionalElement,
  SheetDistanceElement,
  SheetPowerElement,
  SheetSynchronismElement,
  SheetUnrestrainedDifferentialElement,
} from "./sheet-relating.js";
import type { SheetInputs, SheetSource } from "./sheet-source.js";
import type { Typed } from "./typed.js";

export type * from "./sheet-element.js";
export type * from "./sheet-relating.js";

/** Phase overcurrent on a sheet. */
export interface SheetOvercurrentElement extends SheetElementCommon {
  readonly function: "50" | "51";
  readonly watches?: "phase" | undefined;
}

/** Earth-fault overcurrent on a sheet: N from the residual, G from a current transformer of its own (`groundCt`). */
export interface SheetEarthFaultElement extends SheetElementCommon {
  readonly function: "50N" | "51N" | "50G" | "51G";
  readonly watches?: "residual" | "ground" | undefined;
}

/** Undercurrent on a sheet. */
export interface SheetUndercurrentElement extends SheetElementCommon {
  readonly function: "37";
  readonly watches?: "phase" | undefined;
  /** Default `"any"`. */
  readonly phases?: "any" | "all" | undefined;
  readonly blockBelow?: Typed | undefined;
  readonly armAbove?: Typed | undefined;
}

/** Negative-sequence current on a sheet. */
export interface SheetNegativeSequenceCurrentElement extends SheetElementCommon {
  readonly function: "46";
  readonly watches: "I2" | "3I2";
}

/** Thermal overload on a sheet; the pickup is the current that it carries for ever. */
export interface SheetThermalElement extends SheetElementCommon {
  readonly function: "49";
  readonly watches: "phase" | "I1-and-I2";
  /** q of √(I1² + q·I2²). Default 1. */
  readonly negativeSequenceFactor?: number | undefined;
}

/** Under- and overvoltage on a sheet. */
export interface SheetVoltageElement extends SheetElementCommon {
  readonly function: "27" | "59";
  readonly watches: "line-to-line" | "line-to-neutral";
  /** Default `"any"`. */
  readonly phases?: "any" | "all" | undefined;
  readonly blockBelow?: Typed | undefined;
  /** Only of function 27. */
  readonly armAbove?: Typed | undefined;
}

/** Residual overvoltage on a sheet; `open-delta` needs the ratio `openDeltaVt`. */
export interface SheetResidualVoltageElement extends SheetElementCommon {
  readonly function: "59N";
  readonly watches: "V0" | "3V0" | "open-delta";
}

/** Negative-sequence overvoltage on a sheet. */
export interface SheetNegativeSequenceVoltageElement extends SheetElementCommon {
  readonly function: "47";
  readonly watches?: "V2" | undefined;
}

/** Over- and underfrequency on a sheet. */
export interface SheetFrequencyElement extends SheetElementCommon {
  readonly function: "81O" | "81U";
  readonly watches?: "frequency" | undefined;
  /** Blocked below this voltage to neutral. */
  readonly blockBelow?: Typed | undefined;
}

/** Rate of change of frequency on a sheet. */
export interface SheetFrequencyRateElement extends SheetElementCommon {
  readonly function: "81R";
  readonly watches?: "frequency-rate" | undefined;
  readonly direction: "rising" | "falling" | "both";
  /** Blocked below this voltage to neutral. */
  readonly blockBelow?: Typed | undefined;
}

/** Volts per hertz on a sheet; the pickup is per unit, such as `"110 %"`. */
export interface SheetVoltsPerHertzElement extends SheetElementCommon {
  readonly function: "24";
  readonly watches: "line-to-line" | "line-to-neutral";
}

/** One function on a sheet. */
export type SheetElement =
  | SheetOvercurrentElement
  | SheetEarthFaultElement
  | SheetUndercurrentElement
  | SheetNegativeSequenceCurrentElement
  | SheetThermalElement
  | SheetVoltageElement
  | SheetResidualVoltageElement
  | SheetNegativeSequenceVoltageElement
  | SheetFrequencyElement
  | SheetFrequencyRateElement
  | SheetVoltsPerHertzElement
  | SheetDirectionalElement
  | SheetPowerElement
  | SheetSynchronismElement
  | SheetDistanceElement
  | SheetDifferentialElement
  | SheetUnrestrainedDifferentialElement;

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
  /** Ratio of a current transformer of its own for the input `ig`, such as `"100/1"`. */
  readonly groundCt?: string | undefined;
  /** Ratio of the open-delta winding for the input `vn`, such as `"11 kV/110 V"`. */
  readonly openDeltaVt?: string | undefined;
  /** What lies between two sides of current transformers; differential functions need it. */
  readonly zone?: SheetZone | undefined;
  readonly source?: SheetSource | undefined;
  /** Thermal ratings of the relay's inputs, at the relay. */
  readonly inputs?: SheetInputs | undefined;
  /** How measurement uncertainty enters the verdicts. Default `"simple"`. */
  readonly decisionRule?: DecisionRule | undefined;
  readonly elements: readonly SheetElement[];
}
