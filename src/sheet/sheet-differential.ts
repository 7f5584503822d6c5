/** What a sheet says of a differential zone, and of the functions that watch it. */
import type { Restraint, RestraintSlope } from "../element/index.js";
import type { Typed } from "./typed.js";

/** One side of a differential zone. Its currents are counted into the zone. */
export interface SheetZoneSide {
  /** Rated, line to line; with the power of the zone it says the rated current. */
  readonly voltage?: Typed | undefined;
  /** Rated current in the secondary circuit, where no power is given. */
  readonly ratedCurrent?: Typed | undefined;
  /**
   * The clock number (IEC 60076-1) by which this side lags the other, which has none: that of the vector group on the
   * low-voltage side, or 12 less that on the high-voltage side. Its phases follow each other in alphabetical order.
   */
  readonly clock?: number | undefined;
  /** Whether the zero sequence of an even clock number counts. Default `removed` with a transformer, else `kept`. */
  readonly zeroSequence?: "kept" | "removed" | undefined;
}

/** The side on the inputs `ia2, ib2, ic2`. */
export interface SheetSecondSide extends SheetZoneSide {
  /** The ratio of its current transformers. Default: that of the first side, `ct` of the sheet. */
  readonly ct?: string | undefined;
}

/** What lies between the current transformers of two sides. */
export interface SheetZone {
  /** Rated power of the transformer, such as `"10 MVA"`; both sides then need their voltage. */
  readonly power?: Typed | undefined;
  /** The side on the inputs `ia, ib, ic`, behind `ct` of the sheet. */
  readonly first?: SheetZoneSide | undefined;
  readonly second?: SheetSecondSide | undefined;
}

/** A slope of a differential characteristic as typed. */
export interface TypedSlope {
  /** Rise over rise: `"25 %"`. */
  readonly slope: Typed;
  /** Through the origin, or on from the knee at which it begins. */
  readonly line: RestraintSlope["line"];
  /** The restraint at which it begins, such as `"2 × rated"`; needed from a knee and by a second slope. */
  readonly begins?: Typed | undefined;
}

/** What a restrained differential function has beside its pickup. */
export interface SheetDifferentialFields {
  readonly restraint: Restraint;
  /** One or two. */
  readonly slopes: readonly TypedSlope[];
  /** The second harmonic that blocks, over the fundamental: `"15 %"`; absent: none does. */
  readonly secondHarmonic?: Typed | undefined;
}
