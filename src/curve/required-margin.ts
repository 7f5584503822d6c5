/** How much time there must be between two relays in series. */
import { atLeast, fail, object, options } from "../base/check.js";
import type { Percent, Seconds } from "../base/units.js";

/** What a required margin allows for; what is absent is that of {@link usualAllowance}. */
export interface MarginAllowance {
  /** From the trip of the downstream relay until its breaker has interrupted the current. */
  readonly breakerTime?: Seconds;
  /** How much longer the upstream relay travels once the current has stopped. */
  readonly overshoot?: Seconds;
  /** Errors of the two operate times, in percent. */
  readonly relayErrorsPercent?: { readonly upstream?: Percent; readonly downstream?: Percent };
  /** What the errors of the current transformers make of the operate times, in percent. */
  readonly ctErrorPercent?: Percent;
  readonly safetyTime?: Seconds;
}

/**
 * Usual allowances for electromechanical relays, which make 0.25 · t + 0.25 s of the required margin. Numerical relays
 * have smaller ones, often 5 % and an overshoot of 0.02 s. Common practice, from memory.
 */
export const usualAllowance = /* @__PURE__ */ Object.freeze({
  breakerTime: 0.1,
  overshoot: 0.05,
  relayErrorsPercent: /* @__PURE__ */ Object.freeze({ upstream: 7.5, downstream: 7.5 }),
  ctErrorPercent: 10,
  safetyTime: 0.1,
});

/**
 * The margin that two relays in series need.
 *
 *     margin = (E_upstream + E_downstream + E_ct)/100 · t_downstream + t_breaker + t_overshoot + t_safety
 *
 * With equal relay errors it is the usual (2 · E_relay + E_ct)/100 · t + … of the handbooks.
 *
 * @param allowance - See {@link MarginAllowance}, and the operate time of the downstream relay; all of them 0 or more.
 * @returns Seconds.
 * @throws A {@link InputError} for a value that is negative or not finite, and for unknown keys.
 * Accuracy: within 4 units in the last place.
 * @source common practice, from memory; so are the defaults, see {@link usualAllowance}
 *
 * @example
 * import { requiredMargin } from "tripwright/curve";
 * requiredMargin({ downstreamTime: 0.5 }); // → 0.375
 * requiredMargin({ downstreamTime: 0.5, relayErrorsPercent: { upstream: 5, downstream: 5 }, overshoot: 0.02 }); // → 0.32
 */
export function requiredMargin(allowance: MarginAllowance & { readonly downstreamTime: Seconds }): Seconds {
  const { downstreamTime, ...other } = object(allowance, "", "an allowance with downstreamTime");
  const margin = allowing(other)(atLeast(downstreamTime, 0, "downstreamTime", "an operate time", "s"));
  return Number.isFinite(margin) ? margin : fail("out-of-range", "", "allowances whose sum fits a double", allowance);
}

/** What is required beside each downstream time; the allowance is read once. */
export function allowing(given: MarginAllowance): (downstream: Seconds) => Seconds {
  const { relayErrorsPercent, ctErrorPercent, ...times } = {
    ...usualAllowance,
    ...options(given, Object.keys(usualAllowance)),
  };
  const errors = {
    ...usualAllowance.relayErrorsPercent,
    ...options(relayErrorsPercent, ["upstream", "downstream"], "relayErrorsPercent"),
  };
  const percent = sum(errors, "relayErrorsPercent.", "%") + sum({ ctErrorPercent }, "", "%");
  const fixed = sum(times, "", "s");
  return (time) => (percent / 100) * time + fixed;
}

const sum = (parts: { readonly [name: string]: number }, path: string, unit: string): number =>
  Object.entries(parts).reduce((all, [name, part]) => all + atLeast(part, 0, path + name, "an allowance", unit), 0);
