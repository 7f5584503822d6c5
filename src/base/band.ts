/** What is accepted: a nominal value with its limits. An absent limit is no limit (one-sided). */
export interface Band {
  readonly nominal: number;
  /** The lower limit; a value on it is within. */
  readonly low?: number;
  /** The upper limit; a value on it is within. */
  readonly high?: number;
  /** 360 for angles in degrees: a reading counts from the nominal value the short way round. */
  readonly period?: 360;
}
