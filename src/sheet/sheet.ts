/** The setting sheet as people type it: SI numbers, or text with a unit. */

import type { CurveName, EnergyCurve, ExcessCurve, InverseCurve, TableCurve, UnderCurve } from "../curve/index.js";
import type { Polarising } from "../element/index.js";
import type { DecisionRule } from "../grading/index.js";
import type { TypedEarth, TypedZone } from "./sheet-distance.js";
import type { SheetInputs, SheetSource } from "./sheet-source.js";
import type { SheetDifferentialFields, SheetZone } from "./sheet-zone.js";
import type { Typed, TypedTolerance } from "./typed.js";

/** How a time law returns to rest, as typed. */
export type TypedReset =
  | { readonly form: "instantaneous" }
  | { readonly form: "definite"; readonly time: Typed }
  | { readonly form: "disk"; readonly time?: Typed | undefined }
  | { readonly form: "cooling"; readonly release: number };

/** A thermal image as typed: `{ form: "thermal", tau: "20 min" }`. */
export interface TypedThermalCurve {
  readonly form: "thermal";
  readonly tau: Typed;
  readonly coolingTau?: Typed | undefined;
}

/** A standard curve by name, or constants. */
export type TypedCurve =
  | CurveName
  | InverseCurve
  | UnderCurve
  | ExcessCurve
  | EnergyCurve
  | TableCurve
  | TypedThermalCurve;

/** What every function on a sheet has. */
export interface SheetElementCommon {
  /** The name of the element, such as `"51P"`; unique on the sheet. */
  readonly id: string;
  /** `false`: switched off in the relay; it is neither checked nor in the way. Default `true`. */
  readonly enabled?: boolean | undefined;
  readonly pickup: Typed;
  /** On which side of the transformers this element is written. Default: as the sheet says. */
  readonly values?: "primary" | "secondary" | undefined;
  /** The step in which the relay takes the setting. */
  readonly step?: Typed | undefined;
  /** Where it lets go: a ratio to the start, or a difference back from it; never both. */
  readonly dropoutRatio?: Typed | undefined;
  readonly dropoutDifference?: Typed | undefined;
  /** The contact that operates after the time law. Default `"trip"`. */
  readonly contact?: string | undefined;
  /** The contact that follows the start without delay, where the relay offers one. */
  readonly startContact?: string | undefined;
  /** How long the function takes to respond apart from its time law. Default 2 cycles, frequency functions 8. */
  readonly measuringDelay?: Typed | undefined;
  readonly accuracy: {
    readonly pickup: TypedTolerance;
    readonly time: TypedTolerance;
    readonly dropout?: TypedTolerance | undefined;
    /** Of the limits in angle, in degrees; directional functions only. */
    readonly angle?: TypedTolerance | undefined;
    /** Of the limits in voltage and in frequency; synchronism check only. */
    readonly voltage?: TypedTolerance | undefined;
    readonly frequency?: TypedTolerance | undefined;
  };
  /** A definite time. Either this or a curve; function 50 may have neither. */
  readonly delay?: Typed | undefined;
  /** An inverse time: the name of a standard curve, or constants. */
  readonly curve?: TypedCurve | undefined;
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
  /** How the time law returns to rest. Default: a disk where the curve has its constant, else at once. */
  readonly reset?: TypedReset | undefined;
}

/** Directional overcurrent on a sheet. */
export interface SheetDirectionalElement extends SheetElementCommon {
  readonly function: "67" | "67N";
  /** 67: `phase` or `negative-sequence`; 67N: `residual`, which need not be written. */
  readonly watches?: "phase" | "negative-sequence" | "residual" | undefined;
  /** Phase: `self` or `quadrature`; negative sequence: `-V2`; residual: `-3V0` or `3V0`. */
  readonly polarising: Polarising;
  /** Of the current to its polarising quantity; + = leading. */
  readonly characteristicAngle: Typed;
  /** Default 90° each. */
  readonly leading?: Typed | undefined;
  readonly lagging?: Typed | undefined;
  readonly operates: "forward" | "reverse";
  /** Default `current`. */
  readonly measures?: "current" | "current-cosine" | undefined;
  readonly minimumVoltage?: Typed | undefined;
}

/** Directional power on a sheet: active, of all three phases. */
export interface SheetPowerElement extends SheetElementCommon {
  readonly function: "32";
  readonly watches?: "active-power" | undefined;
  readonly operates: "forward" | "reverse";
}

/** Synchronism check on a sheet; the pickup is the largest angle. Voltages are those of what is compared. */
export interface SheetSynchronismElement extends SheetElementCommon {
  readonly function: "25";
  /** The phase or the pair of the running side that is compared with the input `vs`. */
  readonly watches: "a" | "b" | "c" | "ab" | "bc" | "ca";
  readonly voltageDifference?: Typed | undefined;
  readonly slip?: Typed | undefined;
  readonly liveAbove?: Typed | undefined;
  readonly deadBelow?: Typed | undefined;
  readonly deadClosing?: "running" | "incoming" | "either" | undefined;
  readonly closingTime?: Typed | undefined;
}

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

/** One distance zone on a sheet. */
export interface SheetDistanceElement extends SheetElementCommon {
  readonly function: "21";
  readonly watches: "phase-loops" | "earth-loops" | "phase-and-earth-loops";
  readonly zone: TypedZone;
  readonly operates: "forward" | "reverse";
  /** Needed by the loops to earth. */
  readonly earth?: TypedEarth | undefined;
  /** A loop is measured while each of its phases carries this. */
  readonly minimumCurrent?: Typed | undefined;
}

/** Restrained differential on a sheet; what lies in its zone is said by `zone` of the sheet. */
export interface SheetDifferentialElement extends SheetElementCommon, SheetDifferentialFields {
  readonly function: "87" | "87T";
  readonly watches?: "differential" | undefined;
}

/** Unrestrained differential on a sheet. */
export interface SheetUnrestrainedDifferentialElement extends SheetElementCommon {
  readonly function: "87U";
  readonly watches?: "differential" | undefined;
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
