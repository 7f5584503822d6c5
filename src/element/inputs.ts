import { atLeast, fail, finite, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { ChannelState, ChannelStates, Wiring } from "../base/sequence.js";
import type { Hertz, HertzPerSecond } from "../base/units.js";
import { add, type Phasor, polar, scale } from "../phasor/index.js";

/** What a relay's input sees: a phasor (rms), its frequency, and how fast that moves. */
export interface InputState extends Phasor {
  readonly frequency: Hertz;
  /** Absent: the frequency stands still. */
  readonly frequencyRate?: HertzPerSecond;
}

/**
 * The relay's inputs by name: `ia, ib, ic` and `va, vb, vc` (to neutral), `ig` from a current transformer of its own around
 * all phases or in the neutral, `vn` from an open-delta winding. An input that is not named sees nothing.
 */
export interface RelayInputs {
  readonly [input: string]: InputState;
}

/**
 * What the relay's inputs see when a source's channels are wired to them: each input is the sum of factor · channel.
 *
 * @throws A {@link InputError} where channels of different frequencies feed one input: that is no phasor.
 * Accuracy: that of the phasor arithmetic.
 * @source superposition
 *
 * @example
 * import { inputsOf } from "tripwright/element";
 * const wiring = { v: { quantity: "voltage", feeds: { va: 0.5, vb: -0.5 } } } as const;
 * inputsOf({ v: { rms: 110, frequency: 50 } }, wiring); // → { va: { re: 55, im: 0, frequency: 50 }, vb: { re: -55, im: 0, frequency: 50 } }
 */
export function inputsOf(channels: ChannelStates, wiring: Wiring): RelayInputs {
  const inputs: { [input: string]: InputState } = {};
  object(channels, "channels", "channel states by name");
  object(wiring, "wiring", "channels by name, each { quantity, feeds }");
  for (const [name, state] of Object.entries(channels)) {
    object(state, `channels.${name}`, "a channel state such as { rms: 4, frequency: 50 }");
    atLeast(state.frequency, 0, `channels.${name}.frequency`, "a frequency", "Hz");
    if (state.rms === 0) continue;
    const channel = polar(state.rms, state.angle ?? 0);
    for (const [input, factor] of Object.entries(wiring[name]?.feeds ?? {})) {
      const seen = { ...scale(channel, factor), frequency: state.frequency + 0, ...rateOf(state) };
      inputs[input] = joined(inputs[input], seen, input);
    }
  }
  return inputs;
}

const rateOf = ({ slope }: ChannelState) => {
  const frequencyRate = slope?.frequency ?? 0;
  return frequencyRate === 0 ? {} : { frequencyRate };
};

function joined(before: InputState | undefined, added: InputState, input: string): InputState {
  if (before === undefined) return added;
  if (before.frequency !== added.frequency)
    return fail("conflict", input, `channels of one frequency (${before.frequency} Hz) on one input`, added.frequency);
  if ((before.frequencyRate ?? 0) !== (added.frequencyRate ?? 0))
    return fail("conflict", input, "channels whose frequencies move together on one input", added.frequencyRate ?? 0);
  return { ...before, ...add(before, added) };
}

/** Checks what a relay's inputs are said to see. */
export function checkInputs(inputs: RelayInputs): void {
  object(inputs, "inputs", "relay inputs by name, such as { ia: { re: 4, im: 0, frequency: 50 } }");
  for (const [name, state] of Object.entries(inputs)) {
    within(`inputs.${name}`, () => {
      object(state, "", "what the input sees { re, im, frequency }");
      finite(state.re, "re", "a real part");
      finite(state.im, "im", "an imaginary part");
      atLeast(state.frequency, 0, "frequency", "a frequency", "Hz");
      if (state.frequencyRate !== undefined) finite(state.frequencyRate, "frequencyRate", "a rate in Hz/s");
    });
  }
}
