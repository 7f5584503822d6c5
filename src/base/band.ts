/** What is accepted: a nominal value with its limits. An absent limit is no limit (one-sided). */
export interface Band {
  readonly nominal: number;
  /** The lower limit; a value on it is within. */
  readonly low?: number;
  /** The upper limit; a value on it is within. */
  readonly high?: number;
  /**
   * 360 for angles in degrees: a reading counts the short way round from the middle of the limits, with one limit alone from
   * the nominal value.
   */
  readonly period?: 360;
}

/** The farther of the limits of a band from its nominal value; a limit that is not there counts as the nominal value. */
export const halfWidth = ({ nominal, low = nominal, high = nominal }: Band): number =>
  Math.max(high - nominal, nominal - low);
