/**
 * The forms of curves as definition objects that the generic functions read; adding a form is adding an entry here and
 * its data type to `Curve`.
 */
import { above, atLeast, fail, nameIn, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import type { Curve, CurveName } from "./curve.js";
import { lookUp } from "./standard.js";

interface Form<C extends Curve> {
  /** Whether the function operates above or below where it starts. */
  readonly side: (curve: C) => "over" | "under";
  readonly check: (curve: C) => void;
  /** The equation at a multiple beyond the start, multiplier 1. */
  readonly time: (curve: C, multiple: number) => Seconds;
}

type Forms = { readonly [F in Curve["form"]]: Form<Extract<Curve, { form: F }>> };

const FORMS: Forms = {
  inverse: {
    side: () => "over",
    check: checkEquation,
    time: ({ k, alpha, c }, multiple) => k / powerMinusOne(multiple, alpha) + c,
  },
  under: {
    side: () => "under",
    check: checkEquation,
    time: ({ k, alpha, c }, multiple) => k / -powerMinusOne(multiple, alpha) + c,
  },
  definite: {
    side: ({ side }) => side ?? "over",
    check: ({ time, side }) => {
      atLeast(time, 0, "time", "a time", "s");
      if (side !== undefined && side !== "over" && side !== "under")
        fail("unknown-name", "side", "over or under", side);
    },
    time: ({ time }) => time,
  },
};

function checkEquation({ k, alpha, c }: { k: number; alpha: number; c: number }): void {
  above(k, 0, "k", "a time constant", "s");
  above(alpha, 0, "alpha", "an exponent");
  atLeast(c, 0, "c", "an additive time", "s");
}

/**
 * M^alpha − 1 without the cancellation near M = 1. M − 1 is exact in doubles from 1/2 to 2 and rounds once above, so
 * that everything after it is well conditioned; the common exponents 1 and 2 need no logarithm. Where M^alpha is far
 * from 1 nothing cancels, and the power itself is the more accurate way.
 */
export function powerMinusOne(multiple: number, alpha: number): number {
  const beyond = multiple - 1;
  if (alpha === 1) return beyond;
  if (alpha === 2) return beyond * (multiple + 1);
  const exponent = alpha * (multiple > 0.5 ? Math.log1p(beyond) : Math.log(multiple));
  return Math.abs(exponent) < 1 ? Math.expm1(exponent) : multiple ** alpha - 1;
}

/** A curve that the generic functions can use: checked, with its form. */
export interface ReadyCurve {
  readonly side: "over" | "under";
  readonly time: (multiple: number) => Seconds;
}

/** Looks a name up, checks the constants, and binds the form's equation to them. */
export function readyCurve(curve: Curve | CurveName): ReadyCurve {
  return within("curve", () =>
    ready(typeof curve === "string" ? lookUp(curve, "") : object(curve, "", "a curve or its name")),
  );
}

function ready<C extends Curve>(curve: C): ReadyCurve {
  const form = FORMS[nameIn(curve.form, FORMS, "form")] as unknown as Form<C>;
  form.check(curve);
  return { side: form.side(curve), time: (multiple) => form.time(curve, multiple) };
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
