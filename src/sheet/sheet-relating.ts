/** Elements of a sheet that set several quantities against each other. */
import type { Polarising } from "../element/index.js";
import type { SheetDifferentialFields } from "./sheet-differential.js";
import type { TypedEarth, TypedZone } from "./sheet-distance.js";
import type { SheetElementCommon } from "./sheet-element.js";
import type { Typed } from "./typed.js";

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
