/** What differential functions compare, and how, as data. */
import type { Amperes } from "../base/units.js";
import type { Restraint, RestraintSlope } from "../characteristic/index.js";

/** One side of a differential zone; its currents are counted into the zone. */
export interface ZoneSide {
  /** In its secondary circuit at rated power: 1 per unit. */
  readonly ratedCurrent: Amperes;
  /**
   * The clock number by which it lags the side that is left as it is (IEC 60076-1: phases in alphabetical order, so that it
   * leads where the system turns ACB); 0 of the side that is left as it is, and without a transformer.
   */
  readonly clock: number;
  /** Whether the zero sequence of an even clock number counts; that of an odd one never does. */
  readonly zeroSequence: "kept" | "removed";
}

/** What lies between two sets of current transformers: the inputs `ia, ib, ic` of the first side, `ia2, ib2, ic2` of the second. */
export interface Zone {
  readonly first: ZoneSide;
  readonly second: ZoneSide;
}

/** What a restrained differential function has beside its pickup. */
export interface DifferentialFields {
  readonly zone: Zone;
  /** How the restraint is made of the currents of both sides. */
  readonly restraint: Restraint;
  /** One or two; where they begin is a restraint in A of the first side. */
  readonly slopes: readonly RestraintSlope[];
  /** A phase whose differential current has so much second harmonic over its fundamental, or more, is blocked. */
  readonly secondHarmonic?: number;
}
