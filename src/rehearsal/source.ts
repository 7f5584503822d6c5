/** What the source puts on the relay's inputs at an instant of a state. */
import type { Channel, ChannelState, ChannelStates, Segment, Wiring } from "../base/sequence.js";
import type { Cycles, Degrees, Hertz, Seconds } from "../base/units.js";
import type { Harmonic } from "../base/waveform.js";
import { inputsOf, type RelayInputs } from "../element/index.js";

/** How far each channel has turned since the start, and at which frequency it runs on while it is off. */
export interface Turned {
  readonly [channel: string]: { readonly cycles: Cycles; readonly frequency: Hertz };
}

/** What moves during a state. */
export interface Movement {
  /** The level of a channel moves. */
  readonly isSloping: boolean;
  /** How fast channels turn against each other at the most, in degrees a second. */
  readonly turning: number;
}

/** One state as the relay's inputs see it. */
export interface Source {
  readonly duration: Seconds;
  /** Of the channels that feed current inputs, voltage inputs, and any. */
  readonly moves: { readonly currents: Movement; readonly voltages: Movement; readonly all: Movement };
  /** What the inputs see so long after the beginning of the state. */
  readonly at: (since: Seconds) => RelayInputs;
}

/** A state after what the channels have turned before it. */
export function sourceOf(segment: Segment, wiring: Wiring, turned: Turned): Source {
  return {
    duration: segment.duration,
    moves: {
      currents: movementOf(segment, wiring, "i"),
      voltages: movementOf(segment, wiring, "v"),
      all: movementOf(segment, wiring),
    },
    at: (since) => inputsAt(since, segment, wiring, turned),
  };
}

/** Channels of different frequencies turn against each other: their phasors are seen from the first one. */
function inputsAt(since: Seconds, { channels }: Segment, wiring: Wiring, turned: Turned): RelayInputs {
  const names = Object.keys(channels);
  const reference = names[0] === undefined ? 0 : cyclesAt(since, names[0], channels, turned);
  const seen: { [channel: string]: ChannelState } = {};
  for (const name of names) {
    const ahead = cyclesAt(since, name, channels, turned) - reference;
    seen[name] = stateAfter(since, channels[name] as ChannelState, 360 * (ahead - Math.round(ahead)));
  }
  return inputsOf(seen, wiring);
}

/** A channel some time after the beginning of a state, turned so far against the first one. */
function stateAfter(since: Seconds, state: ChannelState, turn: Degrees): ChannelState {
  const { rms, frequency, angle = 0, slope, harmonics } = state;
  if (slope === undefined && harmonics === undefined) return { rms, frequency, angle: angle + turn };
  return {
    rms: Math.max(0, rms + (slope?.rms ?? 0) * since),
    frequency: Math.max(0, frequency + (slope?.frequency ?? 0) * since),
    angle: angle + (slope?.angle ?? 0) * since + turn,
    ...(slope?.frequency !== undefined && { slope: { frequency: slope.frequency } }),
    ...(harmonics !== undefined && { harmonics: harmonics.map((harmonic) => turnedBy(turn, harmonic)) }),
  };
}

/** A harmonic turns so many times as far as its fundamental. */
const turnedBy = (turn: Degrees, { order, rms, angle = 0 }: Harmonic): Harmonic => ({
  order,
  rms,
  angle: angle + order * turn,
});

function cyclesAt(since: Seconds, name: string, channels: ChannelStates, turned: Turned): Cycles {
  const before = turned[name]?.cycles ?? 0;
  const state = channels[name];
  if (state === undefined) return before + (turned[name]?.frequency ?? 0) * since;
  return before + state.frequency * since + ((state.slope?.frequency ?? 0) * since * since) / 2;
}

/** How far the channels have turned after some time of a state. */
export function turnedAfter(since: Seconds, { channels }: Segment, turned: Turned): Turned {
  const names = new Set([...Object.keys(turned), ...Object.keys(channels)]);
  return Object.fromEntries(
    [...names].map((name) => {
      const state = channels[name];
      const frequency =
        state === undefined ? (turned[name]?.frequency ?? 0) : state.frequency + (state.slope?.frequency ?? 0) * since;
      return [name, { cycles: cyclesAt(since, name, channels, turned), frequency }];
    }),
  );
}

/** Channels that are off before their first state run at the frequency of that state, so that they begin in step. */
export function turnedAtStart(segments: readonly Segment[]): Turned {
  const first: { [channel: string]: { cycles: Cycles; frequency: Hertz } } = {};
  for (const { channels } of segments) {
    for (const [name, { frequency }] of Object.entries(channels)) first[name] ??= { cycles: 0, frequency };
  }
  return first;
}

const isHeard = ({ rms, slope, harmonics = [] }: ChannelState): boolean =>
  rms > 0 || (slope?.rms ?? 0) !== 0 || harmonics.length > 0;

/** The channels that put something out during a state, on inputs whose names begin so. */
function sounding({ channels }: Segment, wiring: Wiring, letter = ""): ChannelState[] {
  return Object.entries(channels)
    .filter(([name, state]) => isHeard(state) && feeds(wiring[name], letter))
    .map(([, state]) => state);
}

const feeds = (channel: Channel | undefined, letter: string): boolean =>
  channel !== undefined && Object.keys(channel.feeds).some((input) => input.startsWith(letter));

const movementOf = (segment: Segment, wiring: Wiring, letter?: "i" | "v"): Movement => ({
  isSloping: slopes(segment, wiring, letter),
  turning: turningOf(segment, wiring, letter),
});

/**
 * How fast channels turn against each other during a state, at the most, in degrees a second: those of frequencies that
 * differ, and those whose angles move.
 */
function turningOf(segment: Segment, wiring: Wiring, letter?: "i" | "v"): number {
  const turning = [0, segment.duration].map((since) => {
    const rates = sounding(segment, wiring, letter).map(
      ({ frequency, slope }) => 360 * (frequency + (slope?.frequency ?? 0) * since) + (slope?.angle ?? 0),
    );
    return rates.length === 0 ? 0 : Math.max(...rates) - Math.min(...rates);
  });
  return Math.max(...turning);
}

/** Whether the level of a channel moves during a state. */
export const slopes = (segment: Segment, wiring: Wiring, letter?: "i" | "v"): boolean =>
  sounding(segment, wiring, letter).some(({ slope = {} }) =>
    Object.values(slope).some((rate) => rate !== undefined && rate !== 0),
  );
