/** The source at hand and how its channels are wired to the relay. */
import { above, nameIn, object } from "../base/check.js";
import type { ChannelStates, Wiring } from "../base/sequence.js";
import type { Hertz, Volts } from "../base/units.js";

/** What the test source offers, and the system that the relay protects. */
export interface Setup {
  readonly frequency: Hertz;
  readonly rotation: "ABC" | "ACB";
  readonly currentChannels: 1 | 3;
  readonly voltageChannels: 1 | 3;
  /** Rated secondary voltage, line to line; absent where the relay has no voltage inputs in use. */
  readonly ratedVoltage?: Volts;
}

/** Channel states with the wiring they go with. */
export interface Bench {
  readonly states: ChannelStates;
  readonly wiring: Wiring;
}

const PHASES = ["a", "b", "c"] as const;

/** The angles of three phases in rotation; the second phase lags the first in ABC. */
const anglesOf = ({ rotation }: Setup): readonly number[] => (rotation === "ABC" ? [0, -120, 120] : [0, 120, -120]);

/** Phase currents of one rms value: balanced on three channels, phase a alone on one. */
export function currents(setup: Setup, rms: number): Bench {
  if (setup.currentChannels === 3) return balanced(setup, "current", rms);
  return {
    states: { i: { rms, frequency: setup.frequency, angle: 0 } },
    wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
  };
}

/** Voltages to neutral of one rms value: balanced on three channels, on one channel all three inputs in parallel. */
export function voltagesToNeutral(setup: Setup, rms: number): Bench {
  if (setup.voltageChannels === 3) return balanced(setup, "voltage", rms);
  return single(setup, rms, { va: 1, vb: 1, vc: 1 });
}

/** One voltage channel from line a to line b, the neutral at its midpoint. */
export const voltageLineToLine = (setup: Setup, rms: number): Bench => single(setup, rms, { va: 0.5, vb: -0.5 });

function single(setup: Setup, rms: number, feeds: { readonly [input: string]: number }): Bench {
  return {
    states: { v: { rms, frequency: setup.frequency, angle: 0 } },
    wiring: { v: { quantity: "voltage", feeds } },
  };
}

function balanced(setup: Setup, quantity: "current" | "voltage", rms: number): Bench {
  const letter = quantity === "current" ? "i" : "v";
  const names = PHASES.map((phase) => `${letter}${phase}`);
  const angles = anglesOf(setup);
  return {
    states: Object.fromEntries(
      names.map((name, i) => [name, { rms, frequency: setup.frequency, angle: angles[i] as number }]),
    ),
    wiring: Object.fromEntries(names.map((name) => [name, { quantity, feeds: { [name]: 1 } }])),
  };
}

/**
 * A healthy system: no current, rated voltages where the relay has any. One voltage channel holds up the voltages to
 * neutral alone: with all three inputs in parallel the voltages between lines are 0.
 *
 * @source common practice: every function is quiet before a check begins
 *
 * @example
 * import { healthy } from "tripwright/element";
 * const setup = { frequency: 50, rotation: "ABC", currentChannels: 1, voltageChannels: 3 } as const;
 * healthy(setup).states; // → { i: { rms: 0, frequency: 50, angle: 0 } }
 */
export function healthy(setup: Setup): Bench {
  checkSetup(setup);
  const current = currents(setup, 0);
  if (setup.ratedVoltage === undefined) return current;
  const voltage = voltagesToNeutral(setup, setup.ratedVoltage / Math.sqrt(3));
  return { states: { ...current.states, ...voltage.states }, wiring: { ...current.wiring, ...voltage.wiring } };
}

/** Checks what a source is said to offer, and the system behind it. */
function checkSetup(setup: Setup): void {
  object(setup, "setup", "a setup { frequency, rotation, currentChannels, voltageChannels, ratedVoltage }");
  const { frequency, rotation, currentChannels, voltageChannels, ratedVoltage } = setup;
  above(frequency, 0, "setup.frequency", "a frequency", "Hz");
  nameIn(rotation, { ABC: true, ACB: true }, "setup.rotation");
  nameIn(`${currentChannels}`, { 1: true, 3: true }, "setup.currentChannels");
  nameIn(`${voltageChannels}`, { 1: true, 3: true }, "setup.voltageChannels");
  if (ratedVoltage !== undefined) above(ratedVoltage, 0, "setup.ratedVoltage", "a voltage", "V");
}
