/** What functions make of the inputs of a relay: the quantities that they watch. */
import { add, magnitude, type Phases, type Phasor, type Rotation, subtract, toComponents } from "../phasor/index.js";
import type { InputState, RelayInputs } from "./inputs.js";

const NOTHING: Phasor = { re: 0, im: 0 };

type Three = readonly [Phasor, Phasor, Phasor];

/** The phasor of an input; one that is not fed sees nothing. */
const seen = (inputs: RelayInputs, input: string): Phasor => inputs[input] ?? NOTHING;

const three = (inputs: RelayInputs, letter: "i" | "v"): Three => [
  seen(inputs, `${letter}a`),
  seen(inputs, `${letter}b`),
  seen(inputs, `${letter}c`),
];

/** What the three inputs of a quantity see. */
export function phasesSeen(inputs: RelayInputs, letter: "i" | "v"): Phases {
  const [a, b, c] = three(inputs, letter);
  return { a, b, c };
}

/** The magnitudes of the three phase currents. */
export const phaseCurrents = (inputs: RelayInputs): number[] => three(inputs, "i").map(magnitude);

/** The magnitudes of the three voltages to neutral. */
const phaseVoltages = (inputs: RelayInputs): number[] => three(inputs, "v").map(magnitude);

/** The magnitudes of the three voltages between lines. */
function lineVoltages(inputs: RelayInputs): number[] {
  const [a, b, c] = three(inputs, "v");
  return [subtract(a, b), subtract(b, c), subtract(c, a)].map(magnitude);
}

/** The voltages that a function of one or the other kind watches. */
export const voltagesOf = (inputs: RelayInputs, watches: "line-to-line" | "line-to-neutral"): number[] =>
  watches === "line-to-line" ? lineVoltages(inputs) : phaseVoltages(inputs);

/** |a + b + c|: three times the zero sequence. */
export function residual(inputs: RelayInputs, letter: "i" | "v"): number {
  const [a, b, c] = three(inputs, letter);
  return magnitude(add(add(a, b), c));
}

/** The magnitude of what one input sees. */
export const magnitudeOn = (inputs: RelayInputs, input: string): number => magnitude(seen(inputs, input));

/** The magnitudes of positive and negative sequence. */
export function sequences(inputs: RelayInputs, letter: "i" | "v", rotation: Rotation) {
  const [a, b, c] = three(inputs, letter);
  const { positive, negative } = toComponents({ a, b, c }, rotation);
  return { positive: magnitude(positive), negative: magnitude(negative) };
}

/** Voltages no further apart are equally high: the rounding of phasors that turn must not decide which is measured. */
const ROUNDING = 2e-15;

/**
 * The voltage to neutral on which frequency is measured: the highest one, the first of several; nothing where there is no
 * voltage at all.
 */
export function measuredVoltage(inputs: RelayInputs): { readonly volts: number; readonly state?: InputState } {
  const volts = phaseVoltages(inputs);
  const highest = Math.max(...volts);
  const state = inputs[["va", "vb", "vc"][volts.findIndex((one) => one >= highest * (1 - ROUNDING))] as string];
  return { volts: highest, ...(highest > 0 && state !== undefined && { state }) };
}
