import { above, atLeast, fail, list, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Piece } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { readySetting } from "./ready.js";
import { readyRelease } from "./reset.js";
import { advanced } from "./travel.js";
import type { TravelState, Underway } from "./travel-state.js";

/** When a function operated in a history, and how far it had come at the end of it. */
export interface OperateInstant {
  /** Seconds since the beginning of the history; absent where it did not operate. */
  readonly operatedAt?: Seconds;
  /** 1 where it operated, else how far it had come: up to 1, but for a thermal image that its start or floor holds back. */
  readonly travel: number;
}

/** What is told of the last state. */
export function operateInstantFrom({ elapsed, operatedAt, travel }: TravelState, path: string): OperateInstant {
  if (!(Number.isFinite(elapsed) && Number.isFinite(operatedAt ?? 0)))
    fail("out-of-range", path, "times whose sums fit a double", operatedAt ?? elapsed);
  return operatedAt === undefined ? { travel } : { operatedAt, travel: 1 };
}

/**
 * When a function operates while its multiple changes, by the integral of the standards:
 *
 *     it operates when ∫ dt/t(M) reaches 1, t(M) = operate time at the multiple of each instant
 *
 * Beyond the start travel runs forward. Between start and dropout it is held on the way down; once below the dropout it resets
 * as the setting says, never below zero, until it starts again. An energy or table curve without a start of its own starts
 * at 0, and resets at M = 0. The ceiling clamps the rate. `minimumTime` is a floor on the time since the start, `addedTime` comes last.
 *
 * @param setting - See {@link CurveSetting}; without a `reset` a disk where the curve has its constant, else at once.
 * @param pieces - The multiple over time, in stretches in which it stands still or moves evenly; seconds.
 * @returns The instant at which it operates, if it does, and the travel at the end.
 * @throws A {@link InputError} with the place of a bad piece, for multiples outside a table, for a ramp of a thermal
 * curve, and for times whose sums no double holds.
 * Accuracy: 1e-12 relative against closed forms and 20-digit cases, ramps that cross the start included, also over a
 * million pieces. A thermal image loses multiplier · tau · 7e-16/(M² − 1) seconds with each piece, since its level is a
 * double; in a single piece it has the digits of {@link operateTime}.
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
  list(pieces, "pieces", "a list of pieces { duration, from, to }");
  let state: Underway = { elapsed: 0, travel: 0 };
  let lost = 0; // what rounding took from the elapsed time, given back with the next piece
  for (const [i, piece] of pieces.entries()) {
    const { elapsed } = state;
    state = within(`pieces[${i}]`, () => advanced(ready, release, state, checkPiece(piece)));
    const passed = piece.duration + lost;
    state = { ...state, elapsed: elapsed + passed };
    lost = passed - (state.elapsed - elapsed);
  }
  return operateInstantFrom(state, "pieces");
}

function checkPiece(piece: Piece): Piece {
  object(piece, "", "a piece { duration, from, to }");
  above(piece.duration, 0, "duration", "a time", "s");
  atLeast(piece.from, 0, "from", "a multiple of the setting");
  atLeast(piece.to, 0, "to", "a multiple of the setting");
  return piece;
}
