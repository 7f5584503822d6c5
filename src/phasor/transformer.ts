import { above, fail, nameIn, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { carried } from "./proportion.js";

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

/** Which ratios a quantity passes upwards and downwards: impedance is voltage over current, power voltage times current. */
const RATIOS = {
  current: [["ct"], []],
  voltage: [["vt"], []],
  impedance: [["vt"], ["ct"]],
  power: [["ct", "vt"], []],
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
  const [over, under] = factors(transformers);
  return carried(value, under, over);
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
  const [over, under] = factors(transformers);
  return carried(value, over, under);
}

/** Primary = secondary · Π over / Π under, kept apart so that 400/5 divides once. */
function factors(transformers: Transformers): [over: number[], under: number[]] {
  const { kind } = options(transformers, ["kind", "ct", "vt"]);
  const [up, down] = RATIOS[nameIn(kind, RATIOS, "kind")].map((names) =>
    names.map((name) => checkRatio(transformers[name], name, kind)),
  ) as [TransformerRatio[], TransformerRatio[]];
  const sides = (ups: TransformerRatio[], downs: TransformerRatio[]): number[] => [
    ...ups.map(({ primary }) => primary),
    ...downs.map(({ secondary }) => secondary),
  ];
  return [sides(up, down), sides(down, up)];
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
