import { above, atLeast, fail, object } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { readySetting } from "./ready.js";
import { readyRelease } from "./reset.js";
import { advanced } from "./travel.js";
import type { TravelState } from "./travel-state.js";

/** One step of time at a multiple, or along one that moves evenly. */
export interface Step {
  readonly multiple: number;
  /** The multiple at the end of the step. Default: the same. */
  readonly to?: number;
  /** Seconds, above 0. */
  readonly dt: Seconds;
}

/**
 * The state of a function after one step of time at a multiple that stands still or moves evenly, for sample-by-sample use.
 * Many small steps give what {@link operateInstant} gives, but for the rounding of a state that is handed on.
 *
 * @param state - Where it stands; at the beginning `{ elapsed: 0, travel: 0 }`, a thermal image that has carried p long
 * enough `{ elapsed: 0, travel: p² }`.
 * @throws A {@link InputError} for a step that is not above 0 s, for a multiple below 0, and where a time would leave the
 * doubles.
 * Accuracy: that of {@link operateInstant}, and 2.3e-16 relative for each step.
 * @source as {@link operateInstant}
 *
 * @example
 * import { advance } from "tripwright/curve";
 * const setting = { curve: "iec-very-inverse" } as const;
 * const later = advance(setting, { elapsed: 0, travel: 0 }, { multiple: 3, dt: 2 });
 * later.travel; // → 0.2962962962962963
 * advance(setting, later, { multiple: 10, dt: 5 }).operatedAt; // → 3.0555555555555554
 */
export function advance(setting: CurveSetting, state: TravelState, step: Step): TravelState {
  const ready = readySetting(setting);
  const { multiple, to = multiple, dt } = object(step, "step", "a step { multiple, dt }");
  const before = checkState(state);
  above(dt, 0, "step.dt", "a time", "s");
  atLeast(multiple, 0, "step.multiple", "a multiple of the setting");
  atLeast(to, 0, "step.to", "a multiple of the setting");
  const { lost: _, ...after } = advanced(ready, readyRelease(setting, ready), before, {
    duration: dt,
    from: multiple,
    to,
  });
  if (!Object.values(after).every(Number.isFinite))
    fail("out-of-range", "step.dt", "times whose sums fit a double", dt);
  return after;
}

function checkState(state: TravelState): TravelState {
  object(state, "state", "a state such as { elapsed: 0, travel: 0 }");
  const elapsed = atLeast(state.elapsed, 0, "state.elapsed", "a time", "s");
  const travel = atLeast(state.travel, 0, "state.travel", "a travel");
  const times = (["started", "released", "operatedAt"] as const)
    .filter((name) => state[name] !== undefined)
    .map((name) => [name, atLeast(state[name], 0, `state.${name}`, "a time", "s")]);
  return { elapsed, travel, ...Object.fromEntries(times) };
}
