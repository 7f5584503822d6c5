/** What the inputs of a synchronism check show of the two sides of the breaker. */
import type { Hertz, Volts } from "../base/units.js";
import { magnitude, type Phasor, subtract } from "../phasor/index.js";
import type { InputState, RelayInputs } from "./inputs.js";
import type { SynchronismSetting } from "./setting.js";

const NOTHING: InputState = { re: 0, im: 0, frequency: 0 };

/** What stands on one side of the breaker. */
export interface Side {
  readonly voltage: Phasor;
  readonly size: Volts;
  readonly frequency: Hertz;
}

const sideOf = (voltage: Phasor, { frequency }: InputState): Side => ({
  voltage,
  size: magnitude(voltage),
  frequency,
});

/** Both sides of the breaker. */
export interface Sides {
  readonly running: Side;
  readonly incoming: Side;
}

/** The running side is a phase or a pair of the relay's voltages, the incoming one an input of its own. */
export function sidesOf(inputs: RelayInputs, { watches }: Pick<SynchronismSetting, "watches">): Sides {
  const [first, second] = [...watches].map((phase) => inputs[`v${phase}`] ?? NOTHING) as [InputState, InputState?];
  const running = second === undefined ? first : subtract(first, second);
  const incoming = inputs["vs"] ?? NOTHING;
  return {
    running: sideOf(running, first === NOTHING ? (second ?? first) : first),
    incoming: sideOf(incoming, incoming),
  };
}
