import { fail, nameIn, options } from "../base/check.js";
import { add, negate, ONE, product, productOver, scale, subtract } from "./arithmetic.js";
import { fromComponents, type SequenceComponents } from "./components.js";
import type { Phases, Rotation } from "./phases.js";
import { checkPhasor, type Phasor } from "./phasor.js";
import { magnitude } from "./polar.js";

/** Which conductors the fault joins: `a` to ground, `b` to `c`, `b` and `c` to ground, or all three. */
export type ShortCircuitType = "three-phase" | "line-to-line" | "line-to-ground" | "double-line-to-ground";

/** A fault, and the network seen from it; all in volts and ohms, or all in per unit. */
export interface ShortCircuitInputs {
  readonly type: ShortCircuitType;
  /** The voltage of phase a before the fault, phase to neutral. */
  readonly voltage: Phasor;
  /** Positive-sequence impedance. */
  readonly z1: Phasor;
  /** Negative-sequence impedance; default `z1`, as it is away from machines. */
  readonly z2?: Phasor;
  /** Zero-sequence impedance, 3 × that of the neutral included; `"open"` where no ground current can flow. */
  readonly z0?: Phasor | "open";
  /** In each faulted phase; line to line: between the two phases. Default 0. */
  readonly zFault?: Phasor;
  /** From where the faulted phases meet to ground; it counts where ground current flows. Default 0. */
  readonly zGround?: Phasor;
  /** Default `"ABC"`. */
  readonly rotation?: Rotation;
}

/** The phases and their sequences, by the side of each other. */
export interface PhasesAndSequences extends Phases, SequenceComponents {}

/** What flows out of the network into the fault, and the voltages at it, to the neutral of the source. */
export interface ShortCircuit {
  readonly currents: PhasesAndSequences;
  readonly voltages: PhasesAndSequences;
  /** 3 · I0, into the ground. */
  readonly groundCurrent: Phasor;
}

/**
 * The currents and voltages of a short circuit, from the sequence networks joined as the fault joins them.
 *
 *     three-phase            I1 = E/(Z1 + Zf)
 *     line-to-line           I1 = −I2 = E/(Z1 + Z2 + Zf)
 *     line-to-ground         I1 = I2 = I0 = E/(Z1 + Z2 + Z0 + 3 · (Zf + Zg))
 *     double-line-to-ground  I1 = E/(A + B·C/(B + C)), I2 = −I1 · C/(B + C), I0 = −I1 · B/(B + C)
 *                            with A = Z1 + Zf, B = Z2 + Zf, C = Z0 + Zf + 3 · Zg
 *     V1 = E − I1·Z1, V2 = −I2·Z2, V0 = −I0·Z0
 *
 * Load is left out. A part below the rounding of its set (16 ε of the largest current, or of E) is given as 0, so that a
 * healthy phase carries none and a bolted one has no angle of noise.
 *
 * @throws A {@link InputError} for a ground fault without `z0`, a total impedance of 0, phasors that are not finite, unknown
 * types and keys.
 * Accuracy: 4e-15 of the largest current, and of the voltage before the fault.
 * @source W. D. Stevenson Jr., Elements of Power System Analysis, 4th ed. (1982), chapter 12 (from memory)
 *
 * @example
 * import { shortCircuit } from "tripwright/phasor";
 * const network = { voltage: { re: 1, im: 0 }, z1: { re: 0, im: 0.25 }, z0: { re: 0, im: 0.5 } };
 * shortCircuit({ type: "line-to-ground", ...network }).currents.a; // → { re: 0, im: -3 }
 * shortCircuit({ type: "three-phase", ...network }).currents.a; // → { re: 0, im: -4 }
 * shortCircuit({ type: "line-to-ground", ...network, z0: "open" }).voltages.zero; // → { re: -1, im: 0 }
 */
export function shortCircuit(inputs: ShortCircuitInputs): ShortCircuit {
  options(inputs, ["type", "voltage", "z1", "z2", "z0", "zFault", "zGround", "rotation"]);
  const { type, voltage, z1, z2 = z1, z0, zFault = NONE, zGround = NONE, rotation } = inputs;
  const join = FAULTS[nameIn(type, FAULTS, "type")];
  for (const [path, p] of Object.entries({ voltage, z1, z2, zFault, zGround })) checkPhasor(p, path);
  const closed = z0 === undefined || z0 === "open" ? undefined : checkPhasor(z0, "z0");
  if (type.endsWith("ground") && z0 === undefined) fail("missing", "z0", 'a phasor or "open"', z0);
  const [total, drop, ...shares] = join(z1, z2, zFault, zGround, closed);
  if (total.re === 0 && total.im === 0) fail("out-of-range", "", "a total impedance other than 0", total);
  const [i0, i1, i2] = shares.map((share) => productOver(voltage, share, total)) as [Phasor, Phasor, Phasor];
  const currents = whole([i0, i1, i2], Math.max(...[i0, i1, i2].map(magnitude)), rotation);
  const v0 = negate(productOver(voltage, drop, total));
  return {
    currents,
    voltages: whole([v0, subtract(voltage, product(i1, z1)), negate(product(i2, z2))], magnitude(voltage), rotation),
    groundCurrent: scale(currents.zero, 3),
  };
}

/**
 * Of each way to join the networks: the total impedance; −V0 in parts of E/total, which is the share of I0 times Z0, or what
 * that comes to as Z0 opens; and I0, I1 and I2 in parts of E/total. Z0 is absent where it is open.
 */
type Joined = readonly [total: Phasor, drop: Phasor, ...shares: Phasor[]];
type Join = (z1: Phasor, z2: Phasor, zFault: Phasor, zGround: Phasor, z0?: Phasor) => Joined;

const NONE: Phasor = { re: 0, im: 0 };
const MINUS: Phasor = { re: -1, im: 0 };

const FAULTS: { readonly [T in ShortCircuitType]: Join } = {
  "three-phase": (z1, _, zFault) => [add(z1, zFault), NONE, NONE, ONE, NONE],
  "line-to-line": (z1, z2, zFault) => [sum(z1, z2, zFault), NONE, NONE, ONE, MINUS],
  "line-to-ground": (z1, z2, zFault, zGround, z0) =>
    z0 ? [sum(z1, z2, z0, scale(add(zFault, zGround), 3)), z0, ONE, ONE, ONE] : [ONE, ONE, NONE, NONE, NONE],
  "double-line-to-ground": (z1, z2, zFault, zGround, z0) => {
    const [a, b] = [add(z1, zFault), add(z2, zFault)];
    if (!z0) return [add(a, b), negate(b), NONE, ONE, MINUS];
    const c = sum(z0, zFault, scale(zGround, 3));
    return [sum(product(a, b), product(a, c), product(b, c)), negate(product(b, z0)), negate(b), add(b, c), negate(c)];
  },
};

const sum = (...phasors: readonly Phasor[]): Phasor => phasors.reduce(add);

/** Sequences with their phases, without what rounding leaves of nothing. */
function whole(sequences: readonly Phasor[], size: number, rotation?: Rotation): PhasesAndSequences {
  const settled = (x: number): number => (Math.abs(x) > 16 * Number.EPSILON * size ? x : 0);
  const both = ({ re, im }: Phasor): Phasor => ({ re: settled(re), im: settled(im) });
  const [zero, positive, negative] = sequences.map(both) as [Phasor, Phasor, Phasor];
  const { a, b, c } = fromComponents({ zero, positive, negative }, rotation);
  return { zero, positive, negative, a: both(a), b: both(b), c: both(c) };
}
