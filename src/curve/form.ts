/**
 * The forms of curves as definition objects that the generic functions read; adding a form is adding its data type to
 * `Curve` and an entry here and in the tables that are typed by it: `MULTIPLES` (backward) and `KINKS` (over time).
 * They stand apart so that whoever imports one direction does not pay for the others.
 */
import { above, atLeast, nameIn, object } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { Curve, CurveName, ThermalCurve } from "./curve.js";
import { powerMinusOne } from "./power.js";
import { lookUp } from "./standard.js";
import { checkTable, tableTime } from "./table.js";

/** The curve of a form. */
export type CurveOf<F extends Curve["form"]> = Extract<Curve, { form: F }>;

/** What a constant of a form must be; every one is a time, the exponents aside. */
type Need = (value: unknown, path: string) => unknown;

const positive: Need = (value, path) => above(value, 0, path, "a constant", "s");
const notNegative: Need = (value, path) => atLeast(value, 0, path, "a constant", "s");
const optional: Need = (value, path) => value === undefined || positive(value, path);
const exponent: Need = (value, path) => above(value, 0, path, "a constant");

interface Form<C extends Curve> {
  /** Whether the function operates above (default) or below where it starts. */
  readonly side?: "over" | "under" | ((curve: C) => "over" | "under");
  /** Where the pure equation starts; default 1. */
  readonly start?: 0 | 1;
  /** Whether the equation has no time on the other side of its start, so that no setting may start it there. */
  readonly bound?: true;
  readonly needs: { readonly [constant: string]: Need };
  /** What the constants alone do not say. */
  readonly check?: (curve: C) => void;
  /** The equation at a multiple beyond the start, multiplier 1. */
  readonly time: (curve: C, multiple: number, preload: number) => Seconds;
}

const FORMS: { readonly [F in Curve["form"]]: Form<CurveOf<F>> } = {
  inverse: {
    bound: true,
    needs: { k: positive, alpha: exponent, c: notNegative, reset: optional },
    time: ({ k, alpha, c }, multiple) => k / powerMinusOne(multiple, alpha) + c,
  },
  under: {
    side: "under",
    bound: true,
    needs: { k: positive, alpha: exponent, c: notNegative },
    time: ({ k, alpha, c }, multiple) => k / (0 - powerMinusOne(multiple, alpha)) + c,
  },
  definite: {
    side: ({ side = "over" }) => nameIn(side, { over: 0, under: 0 }, "curve.side"),
    needs: { time: notNegative },
    // A −0 would turn the travel round.
    time: ({ time }) => time + 0,
  },
  excess: {
    bound: true,
    needs: { k: positive, power: exponent },
    time: ({ k, power }, multiple) => k / (multiple - 1) ** power,
  },
  energy: {
    start: 0,
    needs: { k: positive, maximumTime: optional },
    time: ({ k, maximumTime = Number.POSITIVE_INFINITY }, multiple) => Math.min(k / multiple / multiple, maximumTime),
  },
  thermal: {
    bound: true,
    needs: { tau: positive, coolingTau: optional },
    time: thermalTime,
  },
  table: { start: 0, needs: {}, check: checkTable, time: tableTime },
};

/** ln((M² − p²)/(M² − 1)) loses its digits at large M, where the quotient is near 1; log1p of the rest does not. */
function thermalTime({ tau }: ThermalCurve, multiple: number, preload: number): Seconds {
  return tau * Math.log1p(((1 - preload) * (1 + preload)) / ((multiple - 1) * (multiple + 1)));
}

/** A curve that the generic functions can use: checked, with its form. */
export interface ReadyCurve {
  readonly side: "over" | "under";
  readonly start: 0 | 1;
  readonly bound?: boolean;
  readonly curve: Curve;
  readonly time: (multiple: number, preload?: number) => Seconds;
}

/** Looks a name up, checks the constants, and binds the form's equation to them; problems stand at `curve`. */
export function readyCurve(given: Curve | CurveName): ReadyCurve {
  const curve = typeof given === "string" ? lookUp(given, "curve") : object(given, "curve", "a curve");
  const form = FORMS[nameIn(curve.form, FORMS, "curve.form")] as Form<Curve>;
  const { side = "over", needs, check, time } = form;
  for (const [name, need] of Object.entries(needs)) need(curve[name as keyof Curve], `curve.${name}`);
  check?.(curve);
  return {
    start: 1,
    ...form,
    side: typeof side === "string" ? side : side(curve),
    curve,
    time: (multiple, preload = 0) => time(curve, multiple, preload),
  };
}

/**
 * Whether a function with this curve operates above or below where it starts.
 *
 * @throws A {@link InputError} for constants outside their domain and for an unknown name.
 * Accuracy: exact.
 * @source IEC 60255-151 (over), IEC 60255-127 (over and under)
 *
 * @example
 * import { curveSide } from "tripwright/curve";
 * curveSide("undervoltage-inverse"); // → "under"
 */
export const curveSide = (curve: Curve | CurveName): "over" | "under" => readyCurve(curve).side;
