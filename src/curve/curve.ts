/** Time characteristics as data. */
import type { Seconds } from "../base/units.js";

/** t = k/(M^alpha − 1) + c, M = multiple of the setting: an over function, faster the higher the quantity. */
export interface InverseCurve {
  readonly form: "inverse";
  readonly k: Seconds;
  readonly alpha: number;
  readonly c: Seconds;
  /** Time in which a disk goes from full travel back to rest without current: t_r of t_reset = t_r/(1 − M²). */
  readonly reset?: Seconds;
}

/** t = k/(1 − M^alpha) + c: an under function, faster the lower the quantity; M may be 0. */
export interface UnderCurve {
  readonly form: "under";
  readonly k: Seconds;
  readonly alpha: number;
  readonly c: Seconds;
}

/** The same time at every multiple beyond the start. */
export interface DefiniteCurve {
  readonly form: "definite";
  readonly time: Seconds;
  /** Whether it operates above (default) or below where it starts. */
  readonly side?: "over" | "under";
}

/** t = k/(M − 1)^power: inverse in the excess over the setting, as V/Hz functions often are. */
export interface ExcessCurve {
  readonly form: "excess";
  readonly k: Seconds;
  readonly power: number;
}

/**
 * M² · t = k: a heating limit, such as I2²t of a generator; M in multiples of the rated value that k refers to. It counts
 * from the smallest M on, unless the setting has a `startRatio`, and resets at M = 0.
 */
export interface EnergyCurve {
  readonly form: "energy";
  readonly k: Seconds;
  /** The longest time, at small multiples; absent: none. */
  readonly maximumTime?: Seconds;
}

/**
 * t = tau · ln((M² − p²)/(M² − 1)): a first-order thermal image, M in multiples of the basic current, p the load before.
 * It cools towards M² with `coolingTau`.
 */
export interface ThermalCurve {
  readonly form: "thermal";
  readonly tau: Seconds;
  /** Default: tau. */
  readonly coolingTau?: Seconds;
}

/** A measured or drawn curve: straight between its points on double-logarithmic axes. */
export interface TableCurve {
  readonly form: "table";
  /** At least two, multiples rising and times falling. Outside them there is no answer. */
  readonly points: readonly { readonly multiple: number; readonly time: Seconds }[];
}

/** A time characteristic as data. */
export type Curve = InverseCurve | UnderCurve | DefiniteCurve | ExcessCurve | EnergyCurve | ThermalCurve | TableCurve;

/** The standard curves by name. */
export type CurveName =
  | "iec-inverse"
  | "iec-very-inverse"
  | "iec-extremely-inverse"
  | "long-time-inverse"
  | "short-time-inverse"
  | "ieee-moderately-inverse"
  | "ieee-very-inverse"
  | "ieee-extremely-inverse"
  | "overvoltage-inverse"
  | "undervoltage-inverse";

/** How a function returns to rest once its quantity has gone back. */
export type Reset =
  /** At once. */
  | { readonly form: "instantaneous" }
  /** What was travelled is held for this time, then dropped. */
  | { readonly form: "definite"; readonly time: Seconds }
  /** Like a disk: t_reset = multiplier · t_r/(1 − M²). */
  | {
      readonly form: "disk";
      /** t_r; default: that of the curve, where it has one. */
      readonly time?: Seconds;
    }
  /** A thermal image cools; it releases at this share of the level at which it operates. */
  | { readonly form: "cooling"; readonly release: number };

/**
 * A curve with the settings that a relay adds to it. Everything absent is the pure equation: multiplier 1, start at the
 * setting, no ceiling, no floor, nothing added.
 */
export interface CurveSetting {
  readonly curve: Curve | CurveName;
  /** Time multiplier (IEC TMS, IEEE time dial); it scales the additive constant c too. */
  readonly multiplier?: number;
  /** The function starts only beyond startRatio × setting; the multiple stays on the setting. */
  readonly startRatio?: number;
  /** At multiples above this one the time is that of this one: the curve goes flat. Over functions only. */
  readonly ceilingMultiple?: number;
  /** A floor on the time from start to operation. */
  readonly minimumTime?: Seconds;
  /** Added last, after the floor: an output relay, an intended additional delay. */
  readonly addedTime?: Seconds;
  /** Default: a disk where the curve has a reset constant, else at once. A thermal image cools, and takes `cooling` alone. */
  readonly reset?: Reset;
  /**
   * Below (under functions: above) dropoutRatio × the start the function resets, until it starts again; default 1. Between
   * start and dropout it holds until then. Where the start is 0 (an energy or table curve without a `startRatio`) it resets
   * at M = 0.
   */
  readonly dropoutRatio?: number;
}
