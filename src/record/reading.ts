import type { Seconds } from "../base/units.js";

/** Before or after adjustment. */
export type Stage = "as-found" | "as-left";

/** Which reading it is; no two readings share all three. */
export interface ReadingKey {
  /** The id of the check, such as `51P/time@3`. */
  readonly check: string;
  readonly stage: Stage;
  /** 1 for the first injection. */
  readonly repeat: number;
}

/** A standard uncertainty with the factor that expands it. */
export interface ReadingUncertainty {
  /** In the unit of the value. */
  readonly standard: number;
  readonly coverageFactor: number;
}

/** What was measured against one check. */
export interface Reading extends ReadingKey {
  /**
   * In SI units: the level at which it started, or the operate time. `"never"`: it did not operate before the injection
   * was given up. `"not-taken"`: left out, the note says why.
   */
  readonly value: number | Seconds | "never" | "not-taken";
  /** The level that was really injected, where it differs from the planned one; the band is taken at this level. */
  readonly injected?: number;
  readonly uncertainty?: ReadingUncertainty;
  /** The contact that operated. */
  readonly contact?: string;
  /** ISO 8601. */
  readonly takenAt?: string;
  readonly note?: string;
}

/** The key as text, such as `51P/time@3, as-found, repeat 1`. */
export const keyOf = ({ check, stage, repeat }: ReadingKey): string => `${check}, ${stage}, repeat ${repeat}`;
