/** Settings of functions that set several quantities against each other. */
import type { Amperes, Degrees, Hertz, Ohms, Seconds, Volts, Watts } from "../base/units.js";
import type { Polarising } from "../characteristic/index.js";
import type { Rotation } from "../phasor/index.js";
import type { CommonSetting } from "./common-setting.js";
import type { DifferentialFields, Zone } from "./differential-setting.js";
import type { DistanceZone, EarthReturn } from "./distance-setting.js";

/** 67: directional overcurrent; 67N of the residual current. */
export interface DirectionalSetting extends CommonSetting {
  readonly function: "67" | "67N";
  /** 67: the phase currents, each with its own polarising voltage, or the negative sequence, I2 and not 3·I2; 67N: 3·I0. */
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
  /**
   * Of the polarising quantity (to neutral, between lines, 3·V0 or V2): below it the function is blocked, since a direction needs
   * one.
   */
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
