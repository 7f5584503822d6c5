import { dot } from "../base/qr.js";
import { takeOut } from "./correlate.js";
import { inner, times } from "./positive-definite.js";
import { orderOf, type Piece, type Solution, solveAt } from "./solve-at.js";

/** What to fit to samples that lie within ±1. */
export interface HarmonicModel {
  /** The fundamental, in cycles a sample: where the search begins, or what is kept. */
  readonly step: number;
  /** How many orders to fit, for a step that has been found. */
  readonly highest: (step: number) => number;
  /** The step is searched. */
  readonly free: boolean;
  /** The search also ends where a move is below this share of the standard uncertainty of the step; default 0. */
  readonly close?: number;
  /** Where the search begins: the first of so many samples; default those in the middle of the record. */
  readonly from?: ((reach: number) => number) | undefined;
  /** The step of the converter that made the samples; default 0. */
  readonly grain?: number;
}

/** Level and harmonics: parts[0] + Σ parts[2h − 1] · cos(360 · h · step · u) + parts[2h] · sin(…). */
export interface HarmonicFit {
  readonly step: number;
  /** By place; u counts samples from the middle of the record. */
  readonly parts: readonly number[];
  /** The rms of what is left. */
  readonly residual: number;
  readonly iterations: number;
  /** How many more samples there are than unknowns. */
  readonly degreesOfFreedom: number;
  /** Of the noise, by which the uncertainties count. */
  readonly variance: number;
  /** The standard uncertainty of what has these slopes by the parts, and by the step in radians a sample. */
  readonly uncertainty: (byParts: readonly number[], byStep?: number) => number;
}

/** Why a fit did not end: the search left the frequencies that the samples can show, or did not settle. */
export type HarmonicFailure = "too-far" | "no-convergence";

const TURN = 6.283185307179586; // 2π
const ITERATIONS = 60;
/** A mean square that is left of values within ±1: one below is not known to 1e-11 of itself from the sums. */
const LITTLE = 1e-5;
/** Radians over the samples and orders in reach: the farthest move, a small one, and one that is nothing. */
const [FARTHEST, SMALL, NOTHING] = [4, 0.5, 1e-11];
/** The parts follow the last move in a straight line: the square of what it is must be lost in rounding. */
const STRAIGHT = 1e-8;

/**
 * Least squares of a level and harmonics, with the step kept or searched by Gauss–Newton: at each step the parts are
 * solved, and then the move that lowers the sum of squares most, with the parts following it.
 *
 * The search begins with the fundamental on three cycles, where a start that is a fifth off is off by a third of a cycle at
 * either end. Each time the moves become small, first three times as many samples come into reach, then four times as many
 * orders.
 */
export function fitHarmonics(values: Float64Array, model: HarmonicModel): HarmonicFit | HarmonicFailure {
  const { highest, free, close = 0, from } = model;
  const count = values.length;
  let { step } = model;
  if (!free)
    return finished(values, solveAt(pieceOf(values, count, 0), step, highest(step)), { model, step, iterations: 0 });
  const first = Math.min(count, Math.max(8, Math.round(3 / step)));
  const centre = from === undefined ? count / 2 : from(first) + first / 2;
  let [near, orders] = [pieceOf(values, first, centre), 1];
  let last: Move | undefined;
  for (let iterations = 1; iterations <= ITERATIONS; iterations++) {
    const at = solveAt(near, step, orders);
    const reach = near.values.length;
    const room = reach * orders;
    const move = moveTo(within(at.move, FARTHEST / room), last);
    step += move.taken / TURN;
    if (!(step * count > 0.25 && step < 0.5 - 0.25 / count)) return "too-far";
    const drift = Math.abs(move.taken) * room;
    const settled =
      (drift < STRAIGHT && drift * shrinking(move, last) < NOTHING) ||
      move.taken * move.taken * at.stiffness < close * close * at.variance;
    const most = highest(step);
    last = move;
    if (!settled && drift > SMALL) continue;
    if (reach < count) {
      near = pieceOf(values, 4 * reach < count ? 3 * reach : count, centre);
      last = undefined;
    } else if (orders < most) {
      orders = Math.min(most, 4 * orders);
      last = undefined;
    } else if (settled) return finished(values, at, { model, step, iterations, move: move.taken });
  }
  return "no-convergence";
}

/** Of the step, in radians a sample: what the sums at the step ask for, and what was taken. */
interface Move {
  readonly wanted: number;
  readonly taken: number;
}

/** Where moves alternate or hardly shrink, the sum of squares is not as curved as its model says. A secant of two is. */
function moveTo(wanted: number, last: Move | undefined): Move {
  const bend = last === undefined ? 0 : last.wanted - wanted;
  const slow = last !== undefined && Math.abs(wanted) > Math.abs(last.taken) / 4 && bend * last.taken > 0;
  return { wanted, taken: slow ? wanted * Math.min(4, last.taken / bend) : wanted };
}

/** Of a move, in the one before; the next shrinks by as much again, or faster. */
const shrinking = (move: Move, last: Move | undefined): number =>
  last === undefined || last.taken === 0 ? 1 : Math.min(1, Math.abs(move.taken / last.taken));

const within = (x: number, most: number): number => Math.max(-most, Math.min(most, x));

/** As many samples about a place in the record, or about where they still fit. */
function pieceOf(record: Float64Array, reach: number, centre: number): Piece {
  const from = Math.max(0, Math.min(record.length - reach, Math.floor(centre - reach / 2)));
  const values = record.subarray(from, from + reach);
  return { values, square: dot(values, values) };
}

interface Found {
  readonly model: HarmonicModel;
  readonly step: number;
  readonly iterations: number;
  readonly move?: number;
}

/** The last move is still taken. */
function finished(values: Float64Array, at: Solution, { model, step, iterations, move }: Found): HarmonicFit {
  const { inverse, tilt, stiffness } = at;
  const free = move !== undefined;
  const parts = at.parts.map((part, i) => (free ? part - tilt[i]! * move : part));
  // Where little is left the sums have lost its digits: it is taken from the samples one by one.
  const rest = at.square > LITTLE * values.length ? undefined : residualOf(values, { step, parts });
  const square = rest === undefined ? at.square : dot(rest, rest);
  const degreesOfFreedom = values.length - parts.length - Number(free);
  const variance = coarse(square / degreesOfFreedom, model.grain ?? 0, step * values.length);
  return {
    step,
    parts,
    residual: Math.sqrt(square / values.length),
    iterations,
    degreesOfFreedom,
    variance,
    uncertainty: (byParts, byStep = 0) => {
      const along = free ? (inner(byParts, tilt) - byStep) ** 2 / stiffness : 0;
      return Math.sqrt(variance * (inner(byParts, times(inverse, byParts)) + along));
    },
  };
}

/** A wave of fewer codes from −1 to 1 is one of levels, and not rounded to them. */
const CODES = 20;

/**
 * Rounding to the codes of a converter leaves a variance of grain²/12. Where there is less than half of that in the rest,
 * the samples meet the same codes in every half-cycle, and the fit has taken the rounding for harmonics: there is one
 * half-cycle to tell by, not many.
 */
function coarse(variance: number, grain: number, cycles: number): number {
  const rounding = (grain * grain) / 12;
  return grain * CODES < 2 && variance < rounding / 2 ? variance + rounding * Math.max(1, 2 * cycles) : variance;
}

/** What a fit leaves of the samples. */
export function residualOf(values: Float64Array, { step, parts }: Pick<HarmonicFit, "step" | "parts">): Float64Array {
  const rest = values.map((x) => x - parts[0]!);
  for (let i = 1; i < parts.length; i += 2) takeOut(rest, orderOf(i) * step, parts[i]!, parts[i + 1]!);
  return rest;
}
