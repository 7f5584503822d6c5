/**
 * The forms of curves as definition objects that the generic functions read; adding a form is adding its data type to
 * `Curve` and an entry here and in the tables that are typed by it: `MULTIPLES` (backward) and `TRAVELS` (over time).
 * They stand apart so that whoever imports one direction does not pay for the others.
 */
import { above, atLeast, nameIn, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import type { Curve, CurveName, ThermalCurve } from "./curve.js";
import { powerMinusOne } from "./power.js";
import { lookUp } from "./standard.js";
import { checkTable, tableTime } from "./table.js";

/** The curve of a form. */
export type CurveOf<F extends Curve["form"]> = Extract<Curve, { form: F }>;

interface Form<C extends Curve> {
  /** Whether the function operates above or below where it starts. */
  readonly side: "over" | "under" | ((curve: C) => "over" | "under");
  /** Where the pure equation starts. */
  readonly start: 0 | 1;
  /** Whether the equation has no time on the other side of its start, so that no setting may start it there. */
  readonly bound?: true;
  readonly check: (curve: C) => void;
  /** The equation at a multiple beyond the start, multiplier 1. */
  readonly time: (curve: C, multiple: number, preload: number) => Seconds;
}

const FORMS: { readonly [F in Curve["form"]]: Form<CurveOf<F>> } = {
  inverse: {
    side: "over",
    start: 1,
    bound: true,
    check: (curve) => {
      checkEquation(curve);
      if (curve.reset !== undefined) above(curve.reset, 0, "reset", "a reset time", "s");
    },
    time: ({ k, alpha, c }, multiple) => k / powerMinusOne(multiple, alpha) + c,
  },
  under: {
    side: "under",
    start: 1,
    bound: true,
    check: checkEquation,
    time: ({ k, alpha, c }, multiple) => k / -powerMinusOne(multiple, alpha) + c,
  },
  definite: {
    side: ({ side }) => (side === undefined ? "over" : nameIn(side, { over: 0, under: 0 }, "side")),
    start: 1,
    check: ({ time }) => void atLeast(time, 0, "time", "a time", "s"),
    time: ({ time }) => time,
  },
  excess: {
    side: "over",
    start: 1,
    bound: true,
    check: ({ k, power }) => {
      above(k, 0, "k", "a time constant", "s");
      above(power, 0, "power", "an exponent");
    },
    time: ({ k, power }, multiple) => k / (multiple - 1) ** power,
  },
  energy: {
    side: "over",
    start: 0,
    check: ({ k, maximumTime }) => {
      above(k, 0, "k", "a time constant", "s");
      if (maximumTime !== undefined) above(maximumTime, 0, "maximumTime", "a time", "s");
    },
    time: ({ k, maximumTime = Number.POSITIVE_INFINITY }, multiple) => Math.min(k / multiple / multiple, maximumTime),
  },
  thermal: {
    side: "over",
    start: 1,
    bound: true,
    check: ({ tau, coolingTau = tau }) => {
      above(tau, 0, "tau", "a time constant", "s");
      above(coolingTau, 0, "coolingTau", "a time constant", "s");
    },
    time: thermalTime,
  },
  table: { side: "over", start: 0, check: checkTable, time: tableTime },
};

function checkEquation({ k, alpha, c }: { k: number; alpha: number; c: number }): void {
  above(k, 0, "k", "a time constant", "s");
  above(alpha, 0, "alpha", "an exponent");
  atLeast(c, 0, "c", "an additive time", "s");
}

/** ln((M² − p²)/(M² − 1)) loses its digits at large M, where the quotient is near 1; log1p of the rest does not. */
function thermalTime({ tau }: ThermalCurve, multiple: number, preload: number): Seconds {
  return tau * Math.log1p(((1 - preload) * (1 + preload)) / ((multiple - 1) * (multiple + 1)));
}

/** A curve that the generic functions can use: checked, with its form. */
export interface ReadyCurve {
  readonly side: "over" | "under";
  readonly start: 0 | 1;
  readonly bound: boolean;
  readonly curve: Curve;
  readonly time: (multiple: number, preload?: number) => Seconds;
}

/** Looks a name up, checks the constants, and binds the form's equation to them. */
export function readyCurve(curve: Curve | CurveName): ReadyCurve {
  return within("curve", () =>
    ready(typeof curve === "string" ? lookUp(curve, "") : object(curve, "", "a curve or its name")),
  );
}

function ready<C extends Curve>(curve: C): ReadyCurve {
  const { side, start, bound = false, check, time } = FORMS[nameIn(curve.form, FORMS, "form")] as unknown as Form<C>;
  check(curve);
  return {
    side: typeof side === "string" ? side : side(curve),
    start,
    bound,
    curve,
    time: (multiple, preload = 0) => time(curve, multiple, preload),
  };
}

/**
 * Whether a function with this curve operates above or below where it starts.
 *
 * @throws A {@link InputError} for constants outside their domain and for an unknown name.
 * @source IEC 60255-151 (over), IEC 60255-127 (over and under)
 *
 * @example
 * import { curveSide } from "tripwright/curve";
 * curveSide("undervoltage-inverse"); // → "under"
 */
export const curveSide = (curve: Curve | CurveName): "over" | "under" => readyCurve(curve).side;
