import { above, fail, nameIn, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Volts } from "../base/units.js";
import { carried } from "./proportion.js";

/** The base of a per-unit system; the other two follow from power and voltage. */
export interface PerUnitBase {
  /** Apparent power in VA, of all phases together. */
  readonly power: number;
  /** Line to line; of a single phase, its own. */
  readonly voltage: Volts;
  /** Default 3. */
  readonly phases?: 1 | 3;
}

/** A quantity that has a base. Voltages are as the base is, line to line for three phases. */
export type PerUnitKind = "current" | "voltage" | "impedance" | "power";

/** Over what, under what. */
type Ratio = readonly [number[], number[]];

const BASES: { readonly [K in PerUnitKind]: (base: Required<PerUnitBase>) => Ratio } = {
  current: ({ power, voltage, phases }) => [[power], [voltage, Math.sqrt(phases)]],
  voltage: ({ voltage }) => [[voltage], []],
  impedance: ({ power, voltage }) => [[voltage, voltage], [power]],
  power: ({ power }) => [[power], []],
};

/**
 * A value in per unit of its base.
 *
 *     voltage / V,  power / S,  current · √3 · V / S (single-phase: current · V / S),  impedance · S / V²
 *
 * Of a complex impedance each part is taken by itself.
 *
 * @param value - In SI units.
 * @throws A {@link InputError} for a base that is not above 0, for values that are not finite and for an unknown kind.
 * Accuracy: within 4 units in the last place.
 * @source definition
 *
 * @example
 * import { perUnit } from "tripwright/phasor";
 * perUnit(9.522, { kind: "impedance", power: 100e6, voltage: 13800 }); // → 5
 * perUnit(10, { kind: "current", power: 1000, voltage: 200, phases: 1 }); // → 2
 */
export function perUnit(value: number, base: PerUnitBase & { readonly kind: PerUnitKind }): number {
  const [over, under] = ratioOf(base);
  return carried(value, under, over);
}

/**
 * A value from per unit of its base; undoes {@link perUnit}. The base itself is what 1 comes to.
 *
 * @param value - In per unit; the answer is in SI units.
 * @throws A {@link InputError} for a base that is not above 0, for values that are not finite and for an unknown kind.
 * Accuracy: within 4 units in the last place.
 * @source definition
 *
 * @example
 * import { fromPerUnit } from "tripwright/phasor";
 * const base = { power: 100e6, voltage: 138e3 };
 * fromPerUnit(1, { kind: "impedance", ...base }); // → 190.44
 * fromPerUnit(1, { kind: "current", ...base }).toFixed(1); // → "418.4"
 */
export function fromPerUnit(value: number, base: PerUnitBase & { readonly kind: PerUnitKind }): number {
  const [over, under] = ratioOf(base);
  return carried(value, over, under);
}

/** From which base to which, and of what. */
export interface ChangeOfBase {
  readonly kind: PerUnitKind;
  readonly from: PerUnitBase;
  readonly to: PerUnitBase;
}

/**
 * A per-unit value in per unit of another base: value · base(from) / base(to).
 *
 *     impedance: Z · (V_from/V_to)² · S_to/S_from
 *
 * @throws A {@link InputError} for a base that is not above 0, for values that are not finite and for an unknown kind.
 * Accuracy: within 7 units in the last place.
 * @source definition
 *
 * @example
 * import { changeBase } from "tripwright/phasor";
 * const [from, to] = [{ power: 500e3, voltage: 18e3 }, { power: 100e3, voltage: 20e3 }];
 * changeBase(0.25, { kind: "impedance", from, to }); // → 0.0405
 */
export function changeBase(value: number, change: ChangeOfBase): number {
  const { kind, from, to } = options(change, ["kind", "from", "to"]);
  nameIn(kind, BASES, "kind");
  const ratio = (base: PerUnitBase): Ratio => ratioOf({ ...options(base, KEYS), kind });
  const [old, now] = [within("from", () => ratio(from)), within("to", () => ratio(to))];
  return carried(value, [...old[0], ...now[1]], [...old[1], ...now[0]]);
}

const KEYS = ["power", "voltage", "phases"];

function ratioOf(base: PerUnitBase & { readonly kind: PerUnitKind }): Ratio {
  const { kind, power, voltage, phases = 3 } = options(base, [...KEYS, "kind"]);
  const ratio = BASES[nameIn(kind, BASES, "kind")];
  above(power, 0, "power", "a base power", "VA");
  above(voltage, 0, "voltage", "a base voltage", "V");
  if (phases !== 1 && phases !== 3) fail("out-of-range", "phases", "1 or 3", phases);
  return ratio({ power, voltage, phases });
}
