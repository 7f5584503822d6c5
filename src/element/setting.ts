/** Protective functions as data. Values are secondary (at the relay), SI units, rms. */
import type { Amperes, Degrees, Hertz, HertzPerSecond, Ohms, Seconds, Volts, Watts } from "../base/units.js";
import type { Polarising } from "../characteristic/index.js";
import type { CurveSetting } from "../curve/index.js";
import type { Tolerance } from "../grading/index.js";
import type { Rotation } from "../phasor/index.js";
import type { DistanceZone, EarthReturn } from "./distance-shape.js";
import type { DifferentialFields, Zone } from "./zone-setting.js";

/** A distance as a ratio of the setting or as a difference in its unit. */
export type Distance = { readonly ratio: number } | { readonly difference: number };

/** The published accuracy of a function. */
export interface Accuracy {
  /** Of the level at which it starts. */
  readonly pickup: Tolerance;
  /** Of its operate time; `side: "high"` where only an upper limit is declared. */
  readonly time: Tolerance;
  /** Of its limits in angle, in degrees; where nothing is declared, they are not held against anything. */
  readonly angle?: Tolerance;
  /** Of its limits in voltage and in frequency, where these are not what it is set in. */
  readonly voltage?: Tolerance;
  readonly frequency?: Tolerance;
  /** Of the level at which it lets go. Where nothing is declared, that of the pickup. */
  readonly dropout?: Tolerance;
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
  /**
   * How long the function takes to see that its quantity lies beyond the start, or back behind its dropout; steps are held
   * longer than this. It runs beside the time law, not after it: no contact closes earlier.
   */
  readonly measuringDelay: Seconds;
  /**
   * Where it lets go again: `{ ratio: 0.95 }` of its start, or `{ difference: 0.05 }` back from it. Where nothing is
   * declared, what is usual for the function.
   */
  readonly dropout?: Distance;
  /** The step in which the relay takes the setting, in its unit. */
  readonly step?: number;
  /** The contact that operates after the time law. */
  readonly contact: string;
  /** The contact that follows the start without delay, where the relay offers one. */
  readonly startContact?: string;
  readonly accuracy: Accuracy;
}

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

/** 67: directional overcurrent; 67N of the residual current. */
export interface DirectionalSetting extends CommonSetting {
  readonly function: "67" | "67N";
  /** 67: the phase currents, each with its own polarising voltage, or the negative sequence; 67N: 3·I0. */
  readonly watches: "phase" | "negative-sequence" | "residual";
  readonly pickup: Amperes;
  /** Phase: `self` or `quadrature` (the 90° connection); negative sequence: `-V2`; residual: `-3V0` or `3V0`. */
  readonly polarising: Polarising;
  /** The angle of the current relative to the polarising quantity at which it is most sensitive; + = leading. */
  readonly characteristicAngle: Degrees;
  /** How far the current may lead the characteristic angle, and lag it. Default 90° each. */
  readonly leading?: Degrees;
  readonly lagging?: Degrees;
  readonly operates: "forward" | "reverse";
  /** The current itself, or its part along the characteristic angle (I·cos φ). Default `current`. */
  readonly measures?: "current" | "current-cosine";
  /** Of the polarising quantity: below it the function is blocked, since a direction needs one. */
  readonly minimumVoltage?: Volts;
  readonly rotation: Rotation;
}

/** 32: active power, three-phase. */
export interface PowerSetting extends CommonSetting {
  readonly function: "32";
  readonly watches: "active-power";
  /** Without a sign: `operates` says which way it flows. */
  readonly pickup: Watts;
  readonly operates: "forward" | "reverse";
}

/** 25: synchronism check. It operates, as a permission to close, while all of its limits are kept. */
export interface SynchronismSetting extends CommonSetting {
  readonly function: "25";
  /** The voltage of the running side that is compared with the relay input `vs`: of a phase, or between two. */
  readonly watches: "a" | "b" | "c" | "ab" | "bc" | "ca";
  /** The largest angle between the two sides, leading or lagging. */
  readonly pickup: Degrees;
  /** The largest difference of the two sizes; absent: any. */
  readonly voltageDifference?: Volts;
  /** The largest difference of the two frequencies; absent: any. */
  readonly slip?: Hertz;
  /** Both sides must have this. */
  readonly liveAbove?: Volts;
  /** A side below this is dead; needed where closing onto a dead side is allowed. */
  readonly deadBelow?: Volts;
  /** Which side may be dead, the other one being live. Absent: none. */
  readonly deadClosing?: "running" | "incoming" | "either";
  /** Of the breaker, where the relay adds 360° · slip · time to the angle. */
  readonly closingTime?: Seconds;
}

/** 21: one zone of a distance relay. */
export interface DistanceSetting extends CommonSetting {
  readonly function: "21";
  /** The loops that are measured: AB, BC, CA; A, B, C to earth; or all six. */
  readonly watches: "phase-loops" | "earth-loops" | "phase-and-earth-loops";
  /** The reach along the line angle, of the positive sequence. */
  readonly pickup: Ohms;
  readonly zone: DistanceZone;
  readonly operates: "forward" | "reverse";
  /** Needed by the loops to earth. */
  readonly earth?: EarthReturn;
  /** A loop is measured while each of its phases carries this; to earth, the residual too. Default: anything but nothing. */
  readonly minimumCurrent?: Amperes;
}

/** 87: restrained differential of a machine or line; 87T with a transformer in the zone. */
export interface DifferentialSetting extends CommonSetting, DifferentialFields {
  readonly function: "87" | "87T";
  /** The sum of the compensated currents of both sides, phase by phase. */
  readonly watches: "differential";
  /** The least differential current, as a current of the first side. */
  readonly pickup: Amperes;
}

/** 87U: unrestrained differential. */
export interface UnrestrainedDifferentialSetting extends CommonSetting {
  readonly function: "87U";
  readonly watches: "differential";
  /** As a current of the first side. */
  readonly pickup: Amperes;
  readonly zone: Zone;
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

/** The settings that belong to a function number. */
export type SettingOf<F extends FunctionNumber> = ElementSetting extends infer S
  ? S extends ElementSetting
    ? F extends S["function"]
      ? S
      : never
    : never
  : never;
