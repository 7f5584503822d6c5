import { above, fail, finite, nameIn, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";

/** The ratio of an instrument transformer: 400/5 is `{ primary: 400, secondary: 5 }`; both sides in the same unit. */
export interface TransformerRatio {
  readonly primary: number;
  readonly secondary: number;
}

/** Which quantity is carried across, and the transformers it passes. */
export interface Transformers {
  readonly kind: "current" | "voltage" | "impedance" | "power";
  /** The current transformer; needed for current, impedance and power. */
  readonly ct?: TransformerRatio;
  /** The voltage transformer; needed for voltage, impedance and power. */
  readonly vt?: TransformerRatio;
}

/** Which ratios a quantity passes, as exponents: impedance is voltage over current, power is voltage times current. */
const EXPONENTS = {
  current: { ct: 1, vt: 0 },
  voltage: { ct: 0, vt: 1 },
  impedance: { ct: -1, vt: 1 },
  power: { ct: 1, vt: 1 },
} as const;

/**
 * From the primary side to the relay's side of the instrument transformers.
 *
 *     current / CTR,  voltage / VTR,  impedance · CTR / VTR,  power / (CTR · VTR)
 *
 * @param value - On the primary side, in any unit of the kind; the answer is in the same.
 * @throws A {@link InputError} for a ratio that is missing or not above 0, and for values that are not finite.
 * Accuracy: within 4 units in the last place.
 * @source definition; common practice
 *
 * @example
 * import { toSecondary } from "tripwright/phasor";
 * toSecondary(400, { kind: "current", ct: { primary: 400, secondary: 5 } }); // → 5
 * const ct = { primary: 400, secondary: 5 };
 * const vt = { primary: 13800, secondary: 115 };
 * toSecondary(10, { kind: "impedance", ct, vt }); // → 6.666666666666667
 */
export function toSecondary(value: number, transformers: Transformers): number {
  const { over, under } = factors(transformers);
  return finiteResult((finite(value, "value", "a value") * under) / over, value);
}

/**
 * From the relay's side of the instrument transformers to the primary side; undoes {@link toSecondary}.
 *
 * @param value - On the secondary side, in any unit of the kind; the answer is in the same.
 * @throws A {@link InputError} for a ratio that is missing or not above 0, and for values that are not finite.
 * Accuracy: within 4 units in the last place.
 * @source definition; common practice
 *
 * @example
 * import { toPrimary } from "tripwright/phasor";
 * toPrimary(110, { kind: "voltage", vt: { primary: 11000, secondary: 110 } }); // → 11000
 */
export function toPrimary(value: number, transformers: Transformers): number {
  const { over, under } = factors(transformers);
  return finiteResult((finite(value, "value", "a value") * over) / under, value);
}

/** Primary = secondary · over / under, kept as two products so that 400/5 divides once. */
function factors(transformers: Transformers): { over: number; under: number } {
  options(transformers, ["kind", "ct", "vt"]);
  const { kind, ct, vt } = transformers;
  const exponents = EXPONENTS[nameIn(kind, EXPONENTS, "kind")];
  let [over, under] = [1, 1];
  for (const [name, ratio] of [
    ["ct", ct],
    ["vt", vt],
  ] as const) {
    const exponent = exponents[name];
    if (exponent === 0) continue;
    const { primary, secondary } = checkRatio(ratio, name, kind);
    over *= exponent > 0 ? primary : secondary;
    under *= exponent > 0 ? secondary : primary;
  }
  return { over, under };
}

function checkRatio(ratio: TransformerRatio | undefined, name: "ct" | "vt", kind: string): TransformerRatio {
  if (ratio === undefined)
    return fail("missing", name, `the ratio of the ${name.toUpperCase()}, which ${kind} passes`, ratio);
  return within(name, () => {
    object(ratio, "", "a ratio { primary, secondary }");
    above(ratio.primary, 0, "primary", "a rated primary value");
    above(ratio.secondary, 0, "secondary", "a rated secondary value");
    return ratio;
  });
}

const finiteResult = (result: number, given: number): number =>
  Number.isFinite(result) ? result + 0 : fail("out-of-range", "value", "a value whose result fits a double", given);
