/** What the loops of a distance relay measure. */
import type { Answer } from "../base/answer.js";
import { fail, nameIn, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { add, divide, multiply, type Phases, type Phasor, subtract } from "../phasor/index.js";
import { phaseAt, phasorAt } from "./phasor-at.js";

/** A loop: of two phases, or of a phase and earth. */
export type Loop = "ab" | "bc" | "ca" | "a" | "b" | "c";

const KNOWN = { ab: 1, bc: 1, ca: 1, a: 1, b: 1, c: 1 } as const;

/** Reads the name of a loop. */
export const checkLoop = (loop: unknown, path: string): Loop => nameIn(loop, KNOWN, path);

/** Whether a loop is closed through earth. */
export const isToEarth = (loop: Loop): loop is "a" | "b" | "c" => loop.length === 1;

/** The two phases of a loop. */
export const phasesOf = (loop: "ab" | "bc" | "ca"): readonly ["a" | "b" | "c", "a" | "b" | "c"] =>
  [loop[0], loop[1]] as never;

/** What a relay sees, and the loop that is measured. */
export interface LoopMeasurement {
  /** Voltages to neutral. */
  readonly v: Phases;
  readonly i: Phases;
  readonly loop: Loop;
  /** (z0 − z1)/(3·z1), of {@link earthFactor}; needed by the loops to earth. */
  readonly k0?: Phasor;
}

/** The voltage of a loop, and the current that it is divided by. */
export interface LoopQuantities {
  readonly voltage: Phasor;
  readonly current: Phasor;
}

/**
 * What a loop of a distance relay takes of the phases.
 *
 *     two phases:  va − vb,  ia − ib
 *     to earth:    va,       ia + k0·(ia + ib + ic)
 *
 * @throws A {@link InputError} for phasors that are none, an unknown loop, and a loop to earth without k0.
 * Accuracy: that of phasor arithmetic.
 * @source common practice
 *
 * @example
 * import { loopQuantities } from "tripwright/characteristic";
 * const [v, i] = [{ a: { re: 30, im: 0 }, b: { re: -30, im: 0 }, c: { re: 0, im: 0 } }, { a: { re: 0, im: -5 }, b: { re: 0, im: 5 }, c: { re: 0, im: 0 } }];
 * loopQuantities({ v, i, loop: "ab" }); // → { voltage: { re: 60, im: 0 }, current: { re: 0, im: -10 } }
 */
export function loopQuantities(measurement: LoopMeasurement): LoopQuantities {
  const { v, i, loop, k0 } = options(measurement, ["v", "i", "loop", "k0"]);
  object(v, "v", "voltages to neutral { a, b, c }");
  object(i, "i", "currents { a, b, c }");
  return checkLoop(loop, "loop").length === 1
    ? earthLoop({ v, i, loop: loop as "a", k0 })
    : phaseLoop({ v, i, loop: loop as "ab" });
}

/**
 * The impedance that a loop of a distance relay measures: the voltage of {@link loopQuantities} over their current.
 *
 * @returns In ohm on the side of the given quantities; none with `"no-current"` where the loop carries none.
 * @throws A {@link InputError} for phasors that are none, an unknown loop, and a loop to earth without k0.
 * Accuracy: that of phasor arithmetic.
 * @source common practice
 *
 * @example
 * import { loopImpedance } from "tripwright/characteristic";
 * import { polar, threePhase } from "tripwright/phasor";
 * const faulted = { v: threePhase(20), i: threePhase(5, -80), loop: "ab" } as const;
 * const measured = loopImpedance(faulted);
 * measured.kind === "found" && measured.impedance.im.toFixed(3); // → "3.939"
 */
export function loopImpedance(measurement: LoopMeasurement): Answer<{ readonly impedance: Phasor }, "no-current"> {
  const { voltage, current } = loopQuantities(measurement);
  if (current.re === 0 && current.im === 0) return { kind: "none", reason: "no-current" };
  return { kind: "found", impedance: divide(voltage, current) };
}

function phaseLoop({ v, i, loop }: { v: Phases; i: Phases; loop: "ab" | "bc" | "ca" }): LoopQuantities {
  const [one, other] = phasesOf(loop);
  const across = (set: Phases, path: string) => {
    const [from, to] = [phaseAt(set, one, path), phaseAt(set, other, path)];
    return within(path, () => subtract(from, to));
  };
  return { voltage: across(v, "v"), current: across(i, "i") };
}

function earthLoop({
  v,
  i,
  loop,
  k0,
}: {
  v: Phases;
  i: Phases;
  loop: "a" | "b" | "c";
  k0: Phasor | undefined;
}): LoopQuantities {
  if (k0 === undefined) return fail("missing", "k0", "the earth factor, which a loop to earth needs", k0);
  const [a, b, c] = [phaseAt(i, "a", "i"), phaseAt(i, "b", "i"), phaseAt(i, "c", "i")];
  const factor = phasorAt(k0, "k0");
  const residual = within("i", () => add(add(a, b), c));
  const toEarth = within("k0", () => multiply(factor, residual));
  return { voltage: phaseAt(v, loop, "v"), current: within("i", () => add(i[loop], toEarth)) };
}
