import { add } from "./arithmetic.js";
import { PAIRS, PHASES, type PhasePairs, type Phases, three } from "./phases.js";
import { checkPhasor, made, type Phasor } from "./phasor.js";

/**
 * The voltages between the phases.
 *
 *     ab = a − b,  bc = b − c,  ca = c − a
 *
 * In rotation ABC a balanced set leads its line-to-neutral voltages by 30°, in ACB it lags them. The currents of lines
 * from those within a delta, at phase a ab − ca, are those of `{ a: ab, b: ca, c: bc }` here.
 *
 * @throws A {@link InputError} for phasors that are not finite and for a difference beyond the range of a double.
 * Accuracy: correctly rounded in each part.
 * @source definition
 *
 * @example
 * import { lineToLine, magnitude, threePhase } from "tripwright/phasor";
 * magnitude(lineToLine(threePhase(63.5)).bc).toFixed(2); // → "109.99"
 */
export function lineToLine(phases: Phases): PhasePairs {
  const [a, b, c] = three(phases, PHASES, checkPhasor);
  return { ab: difference(a, b), bc: difference(b, c), ca: difference(c, a) };
}

/** The voltages of three phases, and how far the voltages between them, from which they come, are from a closed triangle. */
export interface LineToNeutral extends Phases {
  /** ab + bc + ca: 0, or its rounding, where they close; each then takes a third of it off. */
  readonly misclosure: Phasor;
}

/**
 * The voltages of the phases from those between them.
 *
 *     a = (ab − ca)/3,  b = (bc − ab)/3,  c = (ca − bc)/3
 *
 * What the phases have in common is not seen between them: these are without zero sequence; add V0 to each where it is
 * known. Measured voltages may not close; the answer is then the nearest by least squares, and `misclosure` says by how much.
 *
 * @throws A {@link InputError} for phasors that are not finite and for sums beyond the range of a double.
 * Accuracy: 3e-16 of the largest voltage.
 * @source definition
 *
 * @example
 * import { lineToNeutral } from "tripwright/phasor";
 * const lines = { ab: { re: 120, im: 0 }, bc: { re: -60, im: 30 }, ca: { re: -60, im: -30 } };
 * lineToNeutral(lines).a; // → { re: 60, im: 10 }
 * lineToNeutral(lines).misclosure; // → { re: 0, im: 0 }
 */
export function lineToNeutral(lines: PhasePairs): LineToNeutral {
  const [ab, bc, ca] = three(lines, PAIRS, checkPhasor);
  const misclosure = add(add(ab, bc), ca);
  return { a: difference(ab, ca, 3), b: difference(bc, ab, 3), c: difference(ca, bc, 3), misclosure };
}

const difference = (p: Phasor, q: Phasor, over = 1): Phasor =>
  made((p.re - q.re) / over, (p.im - q.im) / over, "a sum");
