/** What every element of a sheet has, as people type it. */
import type { CurveName } from "../curve/index.js";
import type { Typed, TypedTolerance } from "./typed.js";

/** How a time law returns to rest, as typed. */
export type TypedReset =
  | { readonly form: "instantaneous" }
  | { readonly form: "definite"; readonly time: Typed }
  | { readonly form: "disk"; readonly time?: Typed | undefined }
  | { readonly form: "cooling"; readonly release: number };

/** Constants of an inverse curve as typed: `{ form: "inverse", k: "0.14 s", alpha: 0.02, c: "0 s" }`. */
export interface TypedInverseCurve {
  readonly form: "inverse";
  readonly k: Typed;
  readonly alpha: number;
  readonly c: Typed;
  readonly reset?: Typed | undefined;
}

/** Constants of a curve of an under function as typed. */
export interface TypedUnderCurve {
  readonly form: "under";
  readonly k: Typed;
  readonly alpha: number;
  readonly c: Typed;
}

/** Constants of a curve in the excess over the setting as typed. */
export interface TypedExcessCurve {
  readonly form: "excess";
  readonly k: Typed;
  readonly power: number;
}

/** A heating limit as typed: `{ form: "energy", k: "10 s", maximumTime: "120 s" }`. */
export interface TypedEnergyCurve {
  readonly form: "energy";
  readonly k: Typed;
  readonly maximumTime?: Typed | undefined;
}

/** A thermal image as typed: `{ form: "thermal", tau: "20 min" }`. */
export interface TypedThermalCurve {
  readonly form: "thermal";
  readonly tau: Typed;
  readonly coolingTau?: Typed | undefined;
}

/** A measured or drawn curve as typed. */
export interface TypedTableCurve {
  readonly form: "table";
  readonly points: readonly { readonly multiple: number; readonly time: Typed }[];
}

/** The constants of a curve as typed. */
export type TypedConstants =
  | TypedInverseCurve
  | TypedUnderCurve
  | TypedExcessCurve
  | TypedEnergyCurve
  | TypedThermalCurve
  | TypedTableCurve;

/** A standard curve by name, or constants. */
export type TypedCurve = CurveName | TypedConstants;

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
  /** How long the function takes to respond apart from its time law. Default: 2 to 10 cycles, as is usual for the function. */
  readonly measuringDelay?: Typed | undefined;
  readonly accuracy: {
    readonly pickup: TypedTolerance;
    readonly time: TypedTolerance;
    readonly dropout?: TypedTolerance | undefined;
    /** Of the limits in angle, in degrees; directional functions and quadrilateral zones only. */
    readonly angle?: TypedTolerance | undefined;
    /** Of the limits in voltage and in frequency; synchronism check only. */
    readonly voltage?: TypedTolerance | undefined;
    readonly frequency?: TypedTolerance | undefined;
  };
  /** A definite time. Either this or a curve; functions that may be instantaneous may have neither. */
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
