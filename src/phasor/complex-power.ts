import { within } from "../base/input-error.js";
import { add, product } from "./arithmetic.js";
import { SEQUENCES, type SequenceComponents } from "./components.js";
import { PHASES, type Phases, three } from "./phases.js";
import { checkPhasor, type Phasor } from "./phasor.js";
import { magnitude } from "./polar.js";

/** Complex power, its power factor, and in words what the sign of each part means. */
export interface ComplexPower {
  /** P in watts. */
  readonly active: number;
  /** Q in var, positive where the current lags. */
  readonly reactive: number;
  /** |P + jQ| in VA. */
  readonly apparent: number;
  /** active/apparent, −1 to 1, with the sign of the active power; absent where apparent is 0. */
  readonly powerFactor?: number;
  /** Whether the current, as it is counted, lags or leads its voltage; `"unity"` where no reactive power is left. */
  readonly sense: "lagging" | "leading" | "unity";
  /** Whether active power flows the way the current is counted (delivered) or against it (received). */
  readonly direction: "delivered" | "received" | "none";
}

type Quantity = Phasor | Phases | SequenceComponents;

/**
 * The complex power of a voltage and a current, of three phases of each, or of their sequence components.
 *
 *     P + jQ = V · I*;  of three phases Va · Ia* + Vb · Ib* + Vc · Ic* = 3 · (V1 · I1* + V2 · I2* + V0 · I0*)
 *
 * Counted into a load, an inductive load takes lagging current and Q > 0. The sense goes by the sign of Q alone, whichever
 * way active power flows; some standards turn the word round where it is received. Words hold against rounding: up to 8 ε
 * of the apparent power (of three phases: of their sum) a part counts as none.
 *
 * @param v - Volts rms, phase to neutral (or to any other one point, where the currents add up to 0).
 * @param i - Amperes rms.
 * @throws A {@link InputError} for phasors that are not finite and for powers beyond the range of a double.
 * Accuracy: 4e-16 of the apparent power; three phases 1e-15 of the sum of theirs.
 * @source IEEE Std 1459 (from memory); apparent power of three phases is the vector apparent power
 *
 * @example
 * import { complexPower, polar, threePhase, toComponents } from "tripwright/phasor";
 * const { active, reactive, sense, direction } = complexPower(polar(100, 0), polar(5, -90));
 * [active, reactive, sense, direction]; // → [0, 500, "lagging", "none"]
 * complexPower(polar(100, 0), polar(5, 180)).powerFactor; // → -1
 * complexPower(threePhase(100), threePhase(5, 60)).sense; // → "leading"
 * complexPower(toComponents(threePhase(100)), toComponents(threePhase(5))).active.toFixed(9); // → "1500.000000000"
 */
export function complexPower(v: Phasor, i: Phasor): ComplexPower;
export function complexPower(v: Phases, i: Phases): ComplexPower;
export function complexPower(v: SequenceComponents, i: SequenceComponents): ComplexPower;
export function complexPower(v: Quantity, i: Quantity): ComplexPower {
  const names = "a" in Object(v) ? PHASES : "positive" in Object(v) ? SEQUENCES : undefined;
  const list = (given: Quantity, path: string): readonly Phasor[] =>
    within(path, () => (names ? three(given as never, names, checkPhasor) : [checkPhasor(given as Phasor, "")]));
  const [voltages, currents] = [list(v, "v"), list(i, "i")];
  // Each component stands for three phases.
  const times = names === SEQUENCES ? 3 : 1;
  const powers = currents.map(({ re, im }, n) => product(voltages[n]!, { re: times * re, im: -times * im }));
  const { re: active, im: reactive } = powers.reduce(add);
  const apparent = magnitude({ re: active, im: reactive });
  const rounding = 8 * Number.EPSILON * powers.map(magnitude).reduce((sum, size) => sum + size);
  const signOf = (part: number): number => (Math.abs(part) > rounding ? Math.sign(part) : 0);
  return {
    active,
    reactive,
    apparent,
    ...(apparent > 0 && { powerFactor: active / apparent + 0 }),
    sense: (["leading", "unity", "lagging"] as const)[signOf(reactive) + 1] as ComplexPower["sense"],
    direction: (["received", "none", "delivered"] as const)[signOf(active) + 1] as ComplexPower["direction"],
  };
}
