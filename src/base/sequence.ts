/** The shared data of test sequences: what a source puts out, channel by channel and state by state. */
import type { Seconds } from "./units.js";
import type { Sinusoid } from "./waveform.js";

/** One stretch of a level that stands still or moves evenly from `from` to `to`. */
export interface Piece {
  readonly duration: Seconds;
  readonly from: number;
  readonly to: number;
}

/** Which relay inputs a source channel feeds, and by what factor: `{ va: 0.5, vb: -0.5 }`, −1 = reversed. */
export interface Channel {
  readonly quantity: "voltage" | "current";
  readonly feeds: { readonly [relayInput: string]: number };
}

/** The channels of a test source by name. */
export interface Wiring {
  readonly [channel: string]: Channel;
}

/** How fast rms, frequency and angle of a channel move during a state, per second. */
export interface Slope {
  readonly rms?: number;
  readonly frequency?: number;
  readonly angle?: number;
}

/**
 * What a channel puts out at the beginning of a state, and how it moves from there. With θ = 360 · ∫ frequency dt since
 * the start of the timeline,
 *
 *     x(t) = √2 · rms · cos(θ + angle) + offset + decay.initial · exp(−since/decay.tau)
 *          + Σ √2 · rms_h · cos(order_h · θ + angle_h)
 *
 * The decaying part begins anew with each state that has one. A slope of rms or angle moves the fundamental alone, one
 * of frequency the harmonics too. Orders are whole numbers from 2, each once.
 */
export interface ChannelState extends Sinusoid {
  readonly slope?: Slope;
}

/** The states of the channels by name; a channel that is not named is off. */
export interface ChannelStates {
  readonly [channel: string]: ChannelState;
}

/** What a contact does. */
export interface ContactChange {
  readonly contact: string;
  readonly to: "closed" | "open";
}

/** The same of every channel, by name: states from states, a lever from states, one wiring from another. */
export const eachChannel = <From, To>(
  channels: { readonly [channel: string]: From },
  of: (from: From, channel: string) => To,
): { readonly [channel: string]: To } =>
  Object.fromEntries(Object.entries(channels).map(([channel, from]) => [channel, of(from, channel)]));

/** One state of a test sequence. */
export interface Segment {
  readonly name: string;
  readonly duration: Seconds;
  /** The state ends early when this contact does this; its duration is the longest that it may last. */
  readonly endsOn?: ContactChange;
  /** The operate time is counted from the beginning of this state. */
  readonly clock?: "starts";
  readonly channels: ChannelStates;
}

/** A whole test sequence. */
export interface Timeline {
  readonly wiring: Wiring;
  readonly segments: readonly Segment[];
}

/** What one unit of a level adds to a channel; `frequencyRate` adds to the slope of its frequency, in Hz/s. */
export interface Lift extends Slope {
  readonly frequencyRate?: number;
}

/** d(channel)/d(level): one level may move many channels, and rms, frequency and angle of each. */
export interface Lever {
  readonly [channel: string]: Lift;
}
