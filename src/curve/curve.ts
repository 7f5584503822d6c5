/** Time characteristics as data. */
import type { Seconds } from "../base/units.js";

/** t = k/(M^alpha − 1) + c, M = multiple of the setting: an over function, faster the higher the quantity. */
export interface InverseCurve {
  readonly form: "inverse";
  readonly k: Seconds;
  readonly alpha: number;
  readonly c: Seconds;
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

/** A time characteristic as data. */
export type Curve = InverseCurve | UnderCurve | DefiniteCurve;

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
  /** A floor on the curve's time. */
  readonly minimumTime?: Seconds;
  /** Added last, after the floor: an output relay, an intended additional delay. */
  readonly addedTime?: Seconds;
}
