import { above, atLeast, fail, options } from "../base/check.js";
import type { Cycles, Hertz, Seconds } from "../base/units.js";

/** What tells the X/R ratio of a circuit: its time constant and the frequency, or the power factor of its short circuit. */
export type Damping =
  | { readonly tau: Seconds; readonly frequency: Hertz; readonly powerFactor?: never }
  | { readonly powerFactor: number; readonly tau?: never; readonly frequency?: never };

/**
 * The time constant with which the d.c. component of a fault current decays: L/R of the whole circuit.
 *
 *     tau = (X/R) / (2π · frequency)
 *
 * @param circuit - X/R from the source to the fault, 0 or more, at this frequency in hertz.
 * @returns Seconds; `Infinity` for an infinite X/R, a circuit without resistance.
 * @throws A {@link InputError} for a negative X/R, a frequency that is not above 0 Hz.
 * Accuracy: within 2 units in the last place.
 * @source definition
 *
 * @example
 * import { timeConstant } from "tripwright/sinusoid";
 * timeConstant({ xOverR: 14.14, frequency: 50 }).toFixed(4); // → "0.0450"
 */
export function timeConstant(circuit: { readonly xOverR: number; readonly frequency: Hertz }): Seconds {
  const { xOverR, frequency } = options(circuit, ["xOverR", "frequency"]);
  return checkedRatio(xOverR) / omega(frequency);
}

/**
 * The X/R ratio of a circuit, from the time constant of its direct current or from the power factor of its short circuit.
 *
 *     X/R = 2π · frequency · tau        X/R = √(1 − powerFactor²) / powerFactor
 *
 * @param known - Either `tau` in seconds and `frequency` in hertz, or `powerFactor` from 0 to 1.
 * @returns 0 or more; `Infinity` for a power factor of 0 or an infinite `tau`: a circuit without resistance.
 * @throws A {@link InputError} for a negative time constant, a power factor outside 0 to 1, both of them or none.
 * Accuracy: within 3 units in the last place.
 * @source definition
 *
 * @example
 * import { xOverROf } from "tripwright/sinusoid";
 * xOverROf({ tau: 0.045, frequency: 60 }).toFixed(2); // → "16.96"
 * xOverROf({ powerFactor: 0.15 }).toFixed(2); // → "6.59"
 */
export function xOverROf(known: Damping): number {
  const { tau, frequency, powerFactor } = options(known, ["tau", "frequency", "powerFactor"]);
  eitherOf(known, "tau", "powerFactor");
  if (powerFactor === undefined) return unlimited(tau, "tau", "a time constant", "s") * omega(frequency);
  const factor = atLeast(powerFactor, 0, "powerFactor", "a power factor");
  if (factor > 1) fail("out-of-range", "powerFactor", "a power factor of 1 or less", factor);
  return Math.sqrt((1 - factor) * (1 + factor)) / factor;
}

/**
 * The power factor of a short circuit: R/Z.
 *
 *     1 / √(1 + (X/R)²)
 *
 * @param xOverR - 0 or more; `Infinity` for a circuit without resistance.
 * @throws A {@link InputError} for a negative X/R.
 * Accuracy: within 3 units in the last place.
 * @source definition
 *
 * @example
 * import { shortCircuitPowerFactor } from "tripwright/sinusoid";
 * shortCircuitPowerFactor(4.9).toFixed(2); // → "0.20"
 */
export function shortCircuitPowerFactor(xOverR: number): number {
  return 1 / Math.hypot(1, checkedRatio(xOverR));
}

/**
 * The rms factor of a fully offset current at an instant, as rating tables print it: the d.c. component is counted as if it
 * stood still at its value of that instant.
 *
 *     √(1 + 2 · exp(−2t/tau)) = √(1 + 2 · exp(−4π · cycles / (X/R)))
 *
 * It is no rms value over a window; that is {@link rmsOver}.
 *
 * @param xOverR - 0 or more; `Infinity` for a circuit without resistance.
 * @param at - Cycles since the fault, 0 or more; tables are made for half a cycle.
 * @returns From 1 to √3: asymmetrical rms over symmetrical rms.
 * @throws A {@link InputError} for a negative X/R or number of cycles.
 * Accuracy: within 2 units in the last place.
 * @source IEEE C37.010 (from memory: X/R = 25 at half a cycle is its factor 1.6)
 *
 * @example
 * import { rmsFactorAt } from "tripwright/sinusoid";
 * rmsFactorAt(25, { cycles: 0.5 }).toFixed(2); // → "1.60"
 */
export function rmsFactorAt(xOverR: number, at: { readonly cycles: Cycles }): number {
  const cycles = atLeast(options(at, ["cycles"]).cycles, 0, "cycles", "a number of cycles");
  // Without inductance nothing is left at any instant, and 0/0 is no number.
  return Math.sqrt(1 + 2 * (Math.exp(-4 * Math.PI * (cycles / checkedRatio(xOverR))) || 0));
}

const omega = (frequency: Hertz | undefined): number =>
  2 * Math.PI * above(frequency, 0, "frequency", "a frequency", "Hz");

/** A number of 0 or more; infinite too. */
const unlimited = (x: number | undefined, path: string, what: string, unit = ""): number =>
  x === Number.POSITIVE_INFINITY ? x : atLeast(x, 0, path, what, unit);

/** An X/R ratio; that of a circuit without resistance is infinite. */
export const checkedRatio = (xOverR: number): number => unlimited(xOverR, "xOverR", "an X/R ratio");

/** Of two ways to say something, one is given. */
export function eitherOf<K extends string>(given: { readonly [name in K]?: unknown }, one: K, other: K): void {
  if (given[one] === undefined && given[other] === undefined) fail("missing", one, `${one} or ${other}`, undefined);
  if (given[one] !== undefined && given[other] !== undefined)
    fail("conflict", other, `nothing beside ${one}`, given[other]);
}
