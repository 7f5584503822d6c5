/** The thermal image over time: d(level)/dt = (M² − level)/tau, with a constant of its own while it cools. */
import { fail } from "../base/check.js";
import type { Piece } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { ThermalCurve } from "./curve.js";
import { isStarted, type ReadySetting } from "./ready.js";
import type { TravelState } from "./travel-state.js";

/** The state after a stretch in which the multiple stands still; a moving one is refused rather than stepped through. */
export function thermalPiece(ready: ReadySetting, state: TravelState, { duration, from, to }: Piece): TravelState {
  if (from !== to) fail("not-applicable", "to", "a multiple that stands still, as the curve is thermal", to);
  const elapsed = state.elapsed + duration;
  if (state.operatedAt !== undefined) return { ...state, elapsed };
  const multiple = Math.min(from, ready.ceilingMultiple);
  const target = capped(multiple * multiple);
  const { tau, coolingTau = tau } = ready.curve as ThermalCurve;
  const constant = capped(ready.multiplier * (target < state.travel ? coolingTau : tau));
  const level = state.travel - (target - state.travel) * Math.expm1(-duration / constant);
  if (!isStarted(ready, from)) return { elapsed, travel: level };
  const started = (state.started ?? 0) + duration;
  // Near M = 1 the square has lost the digits of M² − 1.
  const full = constant * Math.log1p((1 - Math.min(1, state.travel)) / ((multiple - 1) * (multiple + 1)));
  const wait: Seconds = Math.max(full, ready.minimumTime - (state.started ?? 0));
  if (wait > duration) return { elapsed, travel: level, started };
  return { elapsed, travel: level, started, operatedAt: state.elapsed + wait + ready.addedTime };
}

/** Overflow is capped at the largest double, so that no Infinity − Infinity makes the level NaN. */
const capped = (x: number): number => Math.min(x, Number.MAX_VALUE);
