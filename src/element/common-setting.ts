/** What the settings of every function have. */
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "../curve/index.js";
import type { Tolerance } from "../grading/index.js";

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
