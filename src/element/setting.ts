/** Protective functions as data. Values are secondary (at the relay), SI units, rms. */
import type { Amperes, Hertz, Seconds, Volts } from "../base/units.js";
import type { CurveSetting } from "../curve/index.js";
import type { Tolerance } from "../grading/index.js";

/** The published accuracy of a function. */
export interface Accuracy {
  /** Of the level at which it starts. */
  readonly pickup: Tolerance;
  /** Of its operate time; `side: "high"` where only an upper limit is declared. */
  readonly time: Tolerance;
}

/** What every function has. */
export interface CommonSetting {
  /** The name on the setting sheet, such as `51P`; unique within a relay. */
  readonly id: string;
  /**
   * The time law on the multiple of the setting. A definite delay is `{ curve: { form: "definite", time } }`, with
   * `side: "under"` for an under function.
   */
  readonly law: CurveSetting;
  /** How long the function itself takes to respond, apart from its time law; steps are held longer than this. */
  readonly measuringDelay: Seconds;
  /** The contact that operates after the time law. */
  readonly contact: string;
  /** The contact that follows the start without delay, where the relay offers one. */
  readonly startContact?: string;
  readonly accuracy: Accuracy;
}

/** Overcurrent: 50 instantaneous or definite time, 51 inverse or definite time. */
export interface CurrentSetting extends CommonSetting {
  readonly function: "50" | "51";
  /** The largest of the phase currents. */
  readonly watches: "phase";
  readonly pickup: Amperes;
}

/** Voltage: 27 under, 59 over. */
export interface VoltageSetting extends CommonSetting {
  readonly function: "27" | "59";
  readonly watches: "line-to-line" | "line-to-neutral";
  /** Whether one phase beyond the setting is enough, or all must be. */
  readonly phases: "any" | "all";
  readonly pickup: Volts;
  /** The function is blocked while every watched voltage lies below this (dead-voltage blocking). */
  readonly blockBelow?: Volts;
}

/** Frequency: 81O over, 81U under. */
export interface FrequencySetting extends CommonSetting {
  readonly function: "81O" | "81U";
  readonly watches: "frequency";
  readonly pickup: Hertz;
  /** The function is blocked while every voltage to neutral lies below this. */
  readonly blockBelow?: Volts;
}

/** The settings of one protective function as data. */
export type ElementSetting = CurrentSetting | VoltageSetting | FrequencySetting;

/** A device function number with its direction, after IEEE C37.2. */
export type FunctionNumber = ElementSetting["function"];

/** The settings that belong to a function number. */
export type SettingOf<F extends FunctionNumber> = ElementSetting extends infer S
  ? S extends ElementSetting
    ? F extends S["function"]
      ? S
      : never
    : never
  : never;
