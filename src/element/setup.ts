/** The source at hand and how its channels are wired to the relay. */
import { above, fail, finite, nameIn, object } from "../base/check.js";
import type { ChannelStates, Wiring } from "../base/sequence.js";
import type { Amperes, Hertz, Volts } from "../base/units.js";
import type { Rotation } from "../phasor/index.js";
import { PHASES, SQRT3 } from "./three-phases.js";

/** What the test source offers, and the system that the relay protects. */
export interface Setup {
  readonly frequency: Hertz;
  readonly rotation: Rotation;
  readonly currentChannels: 1 | 3;
  readonly voltageChannels: 1 | 3;
  /** Further current channels, for the second side of a differential zone; absent where the source has none. */
  readonly secondCurrentChannels?: 3;
  /** Rated secondary voltage, line to line; absent where the relay has no voltage inputs in use. */
  readonly ratedVoltage?: Volts;
  /** Rated secondary current; absent where the relay has no current inputs in use. */
  readonly ratedCurrent?: Amperes;
  /** The most that the source makes on one channel and the current inputs carry for ever; absent where neither is known. */
  readonly largestCurrent?: Amperes;
}

/** Channel states with the wiring they go with. */
export interface Bench {
  readonly states: ChannelStates;
  readonly wiring: Wiring;
}

/** The factors by which one channel feeds the inputs of a relay. */
type Feeds = { readonly [input: string]: number };

/** The angles of three phases in rotation; the second phase lags the first in ABC. */
const anglesOf = (rotation: Rotation): readonly number[] => (rotation === "ABC" ? [0, -120, 120] : [0, 120, -120]);

/** Three balanced channels of one rms value, each on its own phase. */
export function balanced(setup: Setup, quantity: "current" | "voltage", rms: number): Bench {
  const letter = quantity === "current" ? "i" : "v";
  const angles = anglesOf(setup.rotation);
  const names = PHASES.map((phase) => `${letter}${phase}`);
  return {
    states: Object.fromEntries(
      names.map((name, i) => [name, { rms, frequency: setup.frequency, angle: angles[i] as number }]),
    ),
    wiring: Object.fromEntries(names.map((name) => [name, { quantity, feeds: { [name]: 1 } }])),
  };
}

/** The first channel of a quantity, on these inputs: `i` or `v` where there is one, else `ia` or `va`. */
export function single(setup: Setup, quantity: "current" | "voltage", rms: number, feeds: Feeds): Bench {
  const [letter, channels] =
    quantity === "current" ? (["i", setup.currentChannels] as const) : (["v", setup.voltageChannels] as const);
  const name = channels === 1 ? letter : `${letter}a`;
  return {
    states: { [name]: { rms, frequency: setup.frequency, angle: 0 } },
    wiring: { [name]: { quantity, feeds } },
  };
}

/** Phase currents of one rms value: balanced on three channels, phase a alone on one. */
export const currents = (setup: Setup, rms: number): Bench =>
  setup.currentChannels === 3 ? balanced(setup, "current", rms) : single(setup, "current", rms, { ia: 1 });

/** The same current through all three inputs in series, where there is one channel: no phase is left without. */
export const currentsInSeries = (setup: Setup, rms: number): Bench =>
  setup.currentChannels === 3
    ? balanced(setup, "current", rms)
    : single(setup, "current", rms, { ia: 1, ib: 1, ic: 1 });

/** Voltages to neutral of one rms value: balanced on three channels, on one channel all three inputs in parallel. */
export const voltagesToNeutral = (setup: Setup, rms: number): Bench =>
  setup.voltageChannels === 3
    ? balanced(setup, "voltage", rms)
    : single(setup, "voltage", rms, { va: 1, vb: 1, vc: 1 });

/**
 * A healthy system: no current, rated voltages where the relay has any. One voltage channel holds up the voltages to
 * neutral alone: with all three inputs in parallel the voltages between lines are 0.
 *
 * @throws A {@link InputError} for a setup that is none, by its field.
 * Accuracy: within 2 units in the last place; angles are exact.
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
  const voltage = voltagesToNeutral(setup, setup.ratedVoltage / SQRT3);
  return { states: { ...current.states, ...voltage.states }, wiring: { ...current.wiring, ...voltage.wiring } };
}

function oneOrThree(channels: number, path: string): void {
  if (finite(channels, path, "1 or 3 channels") !== 1 && channels !== 3)
    fail("out-of-range", path, "1 or 3 channels", channels);
}

function threeOrNone(channels: number | undefined, path: string): void {
  if (channels !== undefined && finite(channels, path, "3 channels, or nothing") !== 3)
    fail("out-of-range", path, "3 channels, or nothing", channels);
}

/** Checks what a source is said to offer, and the system behind it. */
function checkSetup(setup: Setup): void {
  object(
    setup,
    "setup",
    "a setup { frequency, rotation, currentChannels, voltageChannels, ratedVoltage, ratedCurrent }",
  );
  const { frequency, rotation, currentChannels, voltageChannels, secondCurrentChannels } = setup;
  const { ratedVoltage, ratedCurrent, largestCurrent } = setup;
  above(frequency, 0, "frequency", "a frequency", "Hz");
  nameIn(rotation, { ABC: true, ACB: true }, "rotation");
  oneOrThree(currentChannels, "currentChannels");
  oneOrThree(voltageChannels, "voltageChannels");
  threeOrNone(secondCurrentChannels, "secondCurrentChannels");
  if (ratedVoltage !== undefined) above(ratedVoltage, 0, "ratedVoltage", "a voltage", "V");
  if (ratedCurrent !== undefined) above(ratedCurrent, 0, "ratedCurrent", "a current", "A");
  if (largestCurrent !== undefined) above(largestCurrent, 0, "largestCurrent", "a current", "A");
}
