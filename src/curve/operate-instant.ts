import { above, atLeast, fail, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Piece } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { readySetting } from "./ready.js";
import { readyRelease } from "./reset.js";
import { advanced } from "./travel.js";
import type { TravelState } from "./travel-state.js";

/** When a function operated in a history, and how far it had come at the end of it. */
export interface OperateInstant {
  /** Seconds since the beginning of the history; absent where it did not operate. */
  readonly operatedAt?: Seconds;
  /** 1 where it operated, else between 0 and 1. */
  readonly travel: number;
}

const AT_REST: TravelState = { elapsed: 0, travel: 0 };

/**
 * When a function operates while its multiple changes, by the integral of the standards:
 *
 *     it operates when ∫ dt/t(M) reaches 1, t(M) = operate time at the multiple of each instant
 *
 * Beyond the start travel runs forward; between dropout and start it is held; below the dropout it resets as the setting
 * says, never below zero. The ceiling clamps the rate. `minimumTime` is a floor on the time since the start, `addedTime`
 * comes last.
 *
 * @param setting - See {@link CurveSetting}; without a `reset` a disk where the curve has its constant, else at once.
 * @param pieces - The multiple over time, in stretches in which it stands still or moves evenly; seconds.
 * @returns The instant at which it operates, if it does, and the travel at the end.
 * @throws A {@link InputError} with the place of a bad piece, for multiples outside a table, and for a ramp of a thermal
 * curve.
 * Accuracy: 1e-12 relative against closed forms and 20-digit cases, ramps that cross the start included.
 * @source IEEE C37.112-2018 (integral equation, disk reset); IEC 60255-151:2009 4.4 (operation with varying quantities)
 *
 * @example
 * import { operateInstant } from "tripwright/curve";
 * const setting = { curve: "iec-very-inverse" } as const;
 * operateInstant(setting, [{ duration: 2, from: 3, to: 3 }, { duration: 5, from: 10, to: 10 }]).operatedAt; // → 3.0555555555555554
 * operateInstant(setting, [{ duration: 20, from: 1, to: 11 }]).operatedAt; // → 7.348469228349534
 * operateInstant(setting, [{ duration: 2, from: 3, to: 3 }]); // → { travel: 0.2962962962962963 }
 */
export function operateInstant(setting: CurveSetting, pieces: readonly Piece[]): OperateInstant {
  const ready = readySetting(setting);
  const release = readyRelease(setting, ready);
  if (!Array.isArray(pieces)) fail("wrong-type", "pieces", "a list of pieces { duration, from, to }", pieces);
  const { operatedAt, travel } = pieces.reduce<TravelState>(
    (state, piece, i) => within(`pieces[${i}]`, () => advanced(ready, release, state, checkPiece(piece))),
    AT_REST,
  );
  return operatedAt === undefined ? { travel } : { operatedAt, travel };
}

function checkPiece(piece: Piece): Piece {
  object(piece, "", "a piece { duration, from, to }");
  above(piece.duration, 0, "duration", "a time", "s");
  atLeast(piece.from, 0, "from", "a multiple of the setting");
  atLeast(piece.to, 0, "to", "a multiple of the setting");
  return piece;
}

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
 * Many small steps give what {@link operateInstant} gives.
 *
 * @param state - Where it stands; at the beginning `{ elapsed: 0, travel: 0 }`, a thermal image that has carried p long
 * enough `{ elapsed: 0, travel: p² }`.
 * @throws A {@link InputError} for a step that is not above 0 s and for a multiple below 0.
 * Accuracy: that of {@link operateInstant}.
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
  object(state, "state", "a state such as { elapsed: 0, travel: 0 }");
  atLeast(state.elapsed, 0, "state.elapsed", "a time", "s");
  atLeast(state.travel, 0, "state.travel", "a travel");
  for (const name of ["started", "released", "operatedAt"] as const)
    if (state[name] !== undefined) atLeast(state[name], 0, `state.${name}`, "a time", "s");
  above(dt, 0, "dt", "a time", "s");
  atLeast(multiple, 0, "multiple", "a multiple of the setting");
  atLeast(to, 0, "to", "a multiple of the setting");
  return advanced(ready, readyRelease(setting, ready), state, { duration: dt, from: multiple, to });
}
