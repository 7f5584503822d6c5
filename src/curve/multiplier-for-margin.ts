import type { Answer } from "../base/answer.js";
import { above, fail, options } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import { type Coordination, coordinated, requirement, type TwoRelays } from "./coordination.js";
import type { MarginAllowance } from "./required-margin.js";

/** What the multiplier of the upstream relay is sought for. */
export interface WantedMargin extends TwoRelays {
  readonly required: Seconds | MarginAllowance;
  /** The step of the multiplier of the upstream relay, above 0. */
  readonly step: number;
  /** The smallest multiplier that can be set; default: one step. */
  readonly minimum?: number;
  /** The largest; default: 100, more than relays have. */
  readonly maximum?: number;
}

/**
 * Why no multiplier keeps a margin.
 *
 * - `upstream-alone`: at some current only the upstream relay operates, whatever its multiplier
 * - `never-together`: at no current do both operate, so that every multiplier will do
 * - `none-large-enough`: not even the largest multiplier keeps it
 */
export type NoMarginMultiplier = "upstream-alone" | "never-together" | "none-large-enough";

/**
 * The smallest time multiplier of the upstream relay that keeps a required margin at every current. The setting's own
 * multiplier does not matter. The margin grows with the multiplier, so that the next smaller one that can be set is known
 * to fail.
 *
 * @param given - See {@link WantedMargin}. Multipliers that can be set are the multiples of `step`, read as decimals of up
 * to 15 digits: seven steps of 0.05 are 0.35.
 * @returns The multiplier with what {@link coordinationMargin} says to it, or the reason why there is none: see
 * {@link NoMarginMultiplier}.
 * @throws A {@link InputError} as {@link coordinationMargin}, and for a step or limits that are not above 0.
 * Accuracy: that of {@link coordinationMargin}; a margin that only rounding separates from the required one is kept.
 * @source common practice
 *
 * @example
 * import { multiplierForMargin } from "tripwright/curve";
 * const upstream = { setting: { curve: "iec-very-inverse" }, pickup: 600 } as const;
 * const downstream = { setting: { curve: "iec-very-inverse", multiplier: 0.2 }, pickup: 400 } as const;
 * const answer = multiplierForMargin({ upstream, downstream, currents: { from: 800, to: 6000 }, required: 0.3, step: 0.05 });
 * answer.kind === "found" && answer.multiplier; // → 0.35
 */
export function multiplierForMargin(
  given: WantedMargin,
): Answer<{ multiplier: number } & Coordination, NoMarginMultiplier> {
  options(given, ["upstream", "downstream", "currents", "required", "step", "minimum", "maximum"]);
  const { upstream, required, step, minimum = step, maximum = 100 } = given;
  const need = requirement(required);
  for (const [name, value] of Object.entries({ step, minimum, maximum })) above(value, 0, name, "a multiplier");
  // 0.07/0.01 is more than 7 in doubles: a whole number of steps but for rounding is one.
  let low = Math.max(1, Math.ceil((minimum / step) * (1 - 4 * Number.EPSILON)));
  let high = Math.floor((maximum / step) * (1 + 4 * Number.EPSILON));
  if (!(high <= Number.MAX_SAFE_INTEGER))
    fail("out-of-range", "step", `a step that counts the multipliers up to ${maximum}`, step);
  const multiplierAt = (steps: number): number => Number((steps * step).toPrecision(15));
  if (high < low) {
    // The problem stands at a field that the caller gave, not at a default.
    if (given.maximum !== undefined)
      fail("out-of-range", "maximum", `a multiplier of ${multiplierAt(low)} or more`, maximum);
    fail("out-of-range", given.minimum === undefined ? "step" : "minimum", `a multiplier up to ${maximum}`, minimum);
  }
  const withSteps = (steps: number): Coordination => {
    const setting = { ...upstream?.setting, multiplier: multiplierAt(steps) };
    return coordinated({ ...given, upstream: { ...upstream, setting } }, need);
  };
  let best = withSteps(high);
  if (best.aloneUpTo !== undefined) return { kind: "none", reason: "upstream-alone" };
  if (best.tightest === undefined) return { kind: "none", reason: "never-together" };
  if (!best.keeps) return { kind: "none", reason: "none-large-enough" };
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    const tried = withSteps(middle);
    if (tried.keeps) [high, best] = [middle, tried];
    else low = middle + 1;
  }
  return { kind: "found", multiplier: multiplierAt(high), ...best };
}
