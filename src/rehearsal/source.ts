/** What the source puts on the relay's inputs at an instant of a state. */
import type { Channel, ChannelState, ChannelStates, Segment, Wiring } from "../base/sequence.js";
import type { Cycles, Degrees, Hertz, Seconds } from "../base/units.js";
import type { Harmonic } from "../base/waveform.js";
import { inputsOf, type RelayInputs } from "../element/index.js";

/** How far each channel has turned since the start, and at which frequency it runs on while it is off. */
export interface Turned {
  readonly [channel: string]: { readonly cycles: Cycles; readonly frequency: Hertz };
}

/** One state as the relay's inputs see it. */
export interface Source {
  readonly duration: Seconds;
  /** The level of a channel moves. */
  readonly isSloping: boolean;
  /** How fast channels turn against each other at the most, in degrees a second: those of one quantity, and all of them. */
  readonly turning: { readonly alike: number; readonly across: number };
  /** What the inputs see so long after the beginning of the state. */
  readonly at: (since: Seconds) => RelayInputs;
}

/** A state after what the channels have turned before it. */
export function sourceOf(segment: Segment, wiring: Wiring, turned: Turned): Source {
  const begins = inputsAt(0, segment, wiring, turned);
  return {
    duration: segment.duration,
    isSloping: slopes(segment, wiring),
    turning: {
      alike: Math.max(turningOf(segment, wiring, "voltage"), turningOf(segment, wiring, "current")),
      across: turningOf(segment, wiring),
    },
    at: (since) => (since === 0 ? begins : inputsAt(since, segment, wiring, turned)),
  };
}

/** Channels of different frequencies turn against each other: their phasors are seen from the first one. */
function inputsAt(since: Seconds, { channels }: Segment, wiring: Wiring, turned: Turned): RelayInputs {
  const names = Object.keys(channels);
  const reference = names[0] === undefined ? 0 : cyclesAt(since, names[0], channels, turned);
  const seen = names.map((name): [string, ChannelState] => {
    const { rms, frequency, angle = 0, slope, harmonics } = channels[name] as ChannelState;
    const ahead = cyclesAt(since, name, channels, turned) - reference;
    const turn = 360 * (ahead - Math.round(ahead));
    return [
      name,
      {
        rms: Math.max(0, rms + (slope?.rms ?? 0) * since),
        frequency: Math.max(0, frequency + (slope?.frequency ?? 0) * since),
        angle: angle + (slope?.angle ?? 0) * since + turn,
        ...(slope?.frequency !== undefined && { slope: { frequency: slope.frequency } }),
        ...(harmonics !== undefined && { harmonics: harmonics.map((harmonic) => turnedBy(turn, harmonic)) }),
      },
    ];
  });
  return inputsOf(Object.fromEntries(seen), wiring);
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

/** The channels that put something out during a state. */
function sounding({ channels }: Segment, wiring: Wiring, quantity?: Channel["quantity"]): ChannelState[] {
  return Object.entries(channels)
    .filter(([name, state]) => isHeard(state) && wiring[name] !== undefined)
    .filter(([name]) => quantity === undefined || wiring[name]?.quantity === quantity)
    .map(([, state]) => state);
}

/**
 * How fast channels turn against each other during a state, at the most, in degrees a second: those of frequencies that
 * differ, and those whose angles move. Either those of one quantity against each other, or all of them.
 */
function turningOf(segment: Segment, wiring: Wiring, quantity?: Channel["quantity"]): number {
  const turning = [0, segment.duration].map((since) => {
    const rates = sounding(segment, wiring, quantity).map(
      ({ frequency, slope }) => 360 * (frequency + (slope?.frequency ?? 0) * since) + (slope?.angle ?? 0),
    );
    return rates.length === 0 ? 0 : Math.max(...rates) - Math.min(...rates);
  });
  return Math.max(...turning);
}

/** Whether the level of a channel moves during a state. */
export const slopes = (segment: Segment, wiring: Wiring): boolean =>
  sounding(segment, wiring).some(({ slope = {} }) =>
    Object.values(slope).some((rate) => rate !== undefined && rate !== 0),
  );
