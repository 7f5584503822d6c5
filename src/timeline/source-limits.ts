import type { Hertz, Seconds } from "../base/units.js";

/** How long a level may stand. */
export interface Duty {
  /** Rms level above which the time counts. */
  readonly above: number;
  /** Seconds without a break. */
  readonly atMost: Seconds;
}

/** What one quantity of a source can do; what is not given is not checked. */
export interface SourceLimit {
  /** Rms of one channel. */
  readonly maximum?: number;
  /** The smallest step of rms. */
  readonly resolution?: number;
  /** Impedance that a channel drives, in ohms. */
  readonly burden?: number;
  /** Apparent power of one channel into the burden, in VA. */
  readonly power?: number;
  /** Of a current channel: the rms voltage that it can put across the burden. */
  readonly compliance?: number;
  readonly duty?: readonly Duty[];
}

/** What a test source can do, as its user says. */
export interface SourceLimits {
  readonly current?: SourceLimit;
  readonly voltage?: SourceLimit;
  readonly frequency?: { readonly minimum?: Hertz; readonly maximum?: Hertz; readonly resolution?: Hertz };
}

/** Something that the source cannot do. */
export interface SourceExceedance {
  readonly limit: "maximum" | "resolution" | "power" | "compliance" | "duty" | "frequency";
  readonly channel: string;
  /** The state and its place in the timeline, from 0. */
  readonly segment: string;
  readonly index: number;
  /** Seconds since the start at which it begins. */
  readonly at: Seconds;
  /** What is asked for at the worst, and what is allowed; for a resolution the nearest that can be made. */
  readonly amount: number;
  readonly allowed: number;
  readonly unit: "A" | "V" | "VA" | "Hz" | "s";
}
