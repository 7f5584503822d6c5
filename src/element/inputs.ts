import { atLeast, fail, finite, object } from "../base/check.js";
import { checkChannelState } from "../base/check-channel.js";
import { within } from "../base/input-error.js";
import type { ChannelState, ChannelStates, Wiring } from "../base/sequence.js";
import type { Hertz, HertzPerSecond } from "../base/units.js";
import type { Harmonic } from "../base/waveform.js";
import { add, type Phasor, polar, scale } from "../phasor/index.js";

/** What a relay's input sees: a phasor (rms), its frequency, and how fast that moves. */
export interface InputState extends Phasor {
  readonly frequency: Hertz;
  /** Absent: the frequency stands still. */
  readonly frequencyRate?: HertzPerSecond;
  /** The harmonics by their order, where there are any; each turns by order · θ. */
  readonly harmonics?: { readonly [order: number]: Phasor };
}

/**
 * The relay's inputs by name: `ia, ib, ic` and `va, vb, vc` (to neutral), `ig` from a current transformer of its own around
 * all phases or in the neutral, `vn` from an open-delta winding, `ia2, ib2, ic2` from the second side of a differential
 * zone, `vs` from the incoming side of a synchronism check. An input that is not named sees nothing.
 */
export interface RelayInputs {
  readonly [input: string]: InputState;
}

/**
 * What the relay's inputs see when a source's channels are wired to them: each input is the sum of factor · channel.
 *
 * @throws A {@link InputError} for channels that are none, and where channels of different frequencies feed one input: that is
 * no phasor.
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
    within(`channels.${name}`, () => checkChannelState(state));
    const { harmonics = [] } = state;
    if (state.rms === 0 && harmonics.length === 0) continue;
    const channel = polar(state.rms, state.angle ?? 0);
    for (const [input, factor] of Object.entries(wiring[name]?.feeds ?? {})) {
      finite(factor, `wiring.${name}.feeds.${input}`, "a factor");
      const { re, im } = scale(channel, factor);
      const plain = { re, im, frequency: state.frequency + 0 };
      const seen =
        harmonics.length === 0 && state.slope === undefined
          ? plain
          : { ...plain, ...rateOf(state), ...harmonicsOf(harmonics, factor) };
      inputs[input] = joined(inputs[input], seen, input);
    }
  }
  return inputs;
}

const rateOf = ({ slope }: ChannelState) => {
  const frequencyRate = slope?.frequency ?? 0;
  return frequencyRate === 0 ? {} : { frequencyRate };
};

function harmonicsOf(harmonics: readonly Harmonic[], factor: number): Pick<InputState, "harmonics"> {
  if (harmonics.length === 0) return {};
  const phasors = harmonics.map(({ order, rms, angle = 0 }) => [order, scale(polar(rms, angle), factor)] as const);
  return { harmonics: Object.fromEntries(phasors) };
}

/** The harmonics of two channels on one input, order by order. */
function harmonicsTogether(before: InputState, added: InputState): Pick<InputState, "harmonics"> {
  if (before.harmonics === undefined && added.harmonics === undefined) return {};
  const together: { [order: number]: Phasor } = { ...before.harmonics };
  for (const [order, phasor] of Object.entries(added.harmonics ?? {})) {
    const own = together[Number(order)];
    together[Number(order)] = own === undefined ? phasor : add(own, phasor);
  }
  return { harmonics: together };
}

function joined(before: InputState | undefined, added: InputState, input: string): InputState {
  if (before === undefined) return added;
  if (before.frequency !== added.frequency)
    return fail("conflict", input, `channels of one frequency (${before.frequency} Hz) on one input`, added.frequency);
  if ((before.frequencyRate ?? 0) !== (added.frequencyRate ?? 0))
    return fail("conflict", input, "channels whose frequencies move together on one input", added.frequencyRate ?? 0);
  return { ...before, ...add(before, added), ...harmonicsTogether(before, added) };
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
      for (const [order, harmonic] of Object.entries(state.harmonics ?? {})) {
        const { re, im } = object(harmonic, `harmonics.${order}`, "a phasor { re, im }");
        finite(re, `harmonics.${order}.re`, "a real part");
        finite(im, `harmonics.${order}.im`, "an imaginary part");
      }
    });
  }
}
