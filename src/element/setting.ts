/** Protective functions as data. Values are secondary (at the relay), SI units, rms. */
import type { Amperes, Hertz, HertzPerSecond, Volts } from "../base/units.js";
import type { Rotation } from "../phasor/index.js";
import type { CommonSetting } from "./common-setting.js";
import type {
  DifferentialSetting,
  DirectionalSetting,
  DistanceSetting,
  PowerSetting,
  SynchronismSetting,
  UnrestrainedDifferentialSetting,
} from "./relating-setting.js";

export type * from "./common-setting.js";
export type * from "./relating-setting.js";

/** Phase overcurrent: 50 instantaneous or definite time, 51 inverse or definite time. */
export interface OvercurrentSetting extends CommonSetting {
  readonly function: "50" | "51";
  /** The largest of the phase currents. */
  readonly watches: "phase";
  readonly pickup: Amperes;
}

/** Earth-fault overcurrent: N from the residual of the phase currents, G from a current transformer of its own. */
export interface EarthFaultSetting extends CommonSetting {
  readonly function: "50N" | "51N" | "50G" | "51G";
  /** `residual`: ia + ib + ic = 3·I0; `ground`: the relay input `ig`. */
  readonly watches: "residual" | "ground";
  readonly pickup: Amperes;
}

/** 37: undercurrent. */
export interface UndercurrentSetting extends CommonSetting {
  readonly function: "37";
  readonly watches: "phase";
  /** Whether one phase below the setting is enough, or all must be. */
  readonly phases: "any" | "all";
  readonly pickup: Amperes;
  /** The function is blocked while every phase current lies below this: the feeder is dead. */
  readonly blockBelow?: Amperes;
  /** The function waits until the current that it watches has been above this. */
  readonly armAbove?: Amperes;
}

/** 46: negative-sequence current. */
export interface NegativeSequenceCurrentSetting extends CommonSetting {
  readonly function: "46";
  readonly watches: "I2" | "3I2";
  readonly pickup: Amperes;
  readonly rotation: Rotation;
}

/** 49: thermal overload. */
export interface ThermalSetting extends CommonSetting {
  readonly function: "49";
  /** The largest phase current, or √(I1² + q·I2²) as the image of a motor takes it. */
  readonly watches: "phase" | "I1-and-I2";
  /** q, how much more the negative sequence heats. */
  readonly negativeSequenceFactor?: number;
  /** The current that it carries for ever: k times the basic current. */
  readonly pickup: Amperes;
  readonly rotation: Rotation;
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
  /** The function waits until the voltage that it watches has been above this. */
  readonly armAbove?: Volts;
}

/** 59N: residual overvoltage. */
export interface ResidualVoltageSetting extends CommonSetting {
  readonly function: "59N";
  /** From the three voltages to neutral, or from the relay input `vn` behind an open-delta winding. */
  readonly watches: "V0" | "3V0" | "open-delta";
  readonly pickup: Volts;
}

/** 47: negative-sequence overvoltage, which a reversed rotation operates too. */
export interface NegativeSequenceVoltageSetting extends CommonSetting {
  readonly function: "47";
  readonly watches: "V2";
  readonly pickup: Volts;
  readonly rotation: Rotation;
}

/** Frequency: 81O over, 81U under. */
export interface FrequencySetting extends CommonSetting {
  readonly function: "81O" | "81U";
  readonly watches: "frequency";
  readonly pickup: Hertz;
  /** The function is blocked while every voltage to neutral lies below this. */
  readonly blockBelow?: Volts;
}

/** 81R: rate of change of frequency. */
export interface FrequencyRateSetting extends CommonSetting {
  readonly function: "81R";
  readonly watches: "frequency-rate";
  readonly direction: "rising" | "falling" | "both";
  /** Without a sign; the direction says which way. */
  readonly pickup: HertzPerSecond;
  /** The function is blocked while every voltage to neutral lies below this. */
  readonly blockBelow?: Volts;
}

/** 24: volts per hertz, a ratio of the rated voltage over the rated frequency. */
export interface VoltsPerHertzSetting extends CommonSetting {
  readonly function: "24";
  /** The largest of these voltages. */
  readonly watches: "line-to-line" | "line-to-neutral";
  /** Per unit, such as 1.1. */
  readonly pickup: number;
  /** Of the voltages that are watched. */
  readonly ratedVoltage: Volts;
  readonly ratedFrequency: Hertz;
}

/** The settings of one protective function as data. */
export type ElementSetting =
  | OvercurrentSetting
  | EarthFaultSetting
  | UndercurrentSetting
  | NegativeSequenceCurrentSetting
  | ThermalSetting
  | VoltageSetting
  | ResidualVoltageSetting
  | NegativeSequenceVoltageSetting
  | FrequencySetting
  | FrequencyRateSetting
  | VoltsPerHertzSetting
  | DirectionalSetting
  | PowerSetting
  | SynchronismSetting
  | DistanceSetting
  | DifferentialSetting
  | UnrestrainedDifferentialSetting;

/** A device function number, after IEEE C37.2; a letter says what it watches or which way it operates. */
export type FunctionNumber = ElementSetting["function"];

/** The settings that belong to a function number; those of any, where it is not known which. */
export type SettingOf<F extends FunctionNumber> = ElementSetting extends infer S
  ? S extends ElementSetting
    ? [Extract<F, S["function"]>] extends [never]
      ? never
      : S
    : never
  : never;
