import type { Answer } from "../base/answer.js";
import { above, atLeast, fail, nameIn, options } from "../base/check.js";
import { decimal, larger, toNumber } from "../base/exact.js";
import type { Seconds } from "../base/units.js";

/** How a level moves while a pickup or a dropout is sought, and how long the function takes to answer. */
export type MovingLevel = {
  readonly direction: "rising" | "falling";
  /** From the crossing of its threshold to its contact, in seconds. */
  readonly operateDelay: Seconds;
} & (
  | { readonly rate: number; readonly step?: never; readonly dwell?: never }
  | { readonly step: number; readonly dwell: Seconds; readonly rate?: never }
);

/** What the movement puts on the reading, in the unit of the level. */
export interface RampError {
  /** Mean error: positive where the reading is high. In the direction of the movement. */
  readonly bias: number;
  /** Half the width of what the reading may scatter by about that; the error is never larger than |bias| + spread. */
  readonly spread: number;
  /** The same as a standard deviation: a rectangle, spread/√3. */
  readonly standard: number;
}

/**
 * What a moving level puts on a measured pickup or dropout. The reading is the level that stands when the contact answers:
 * a moving quantity reads in the direction of its movement by rate × delay; a staircase by half a step on average, and by one
 * more step for each dwell that the delay outlasts. A delay of exactly one dwell is answered in the next step.
 *
 *     ramp:       bias = ± rate · delay,                          spread = 0
 *     staircase:  bias = ± step · (1/2 + floor(delay/dwell)),     spread = step/2
 *
 * @returns In the unit of the level; the sign of the bias is that of the direction.
 * @throws A {@link InputError} for a rate, step or dwell that is not above 0, a negative delay, an unknown direction.
 * Accuracy: a few units in the last place; whether a delay outlasts a dwell is decided in exact decimals.
 * @source common practice: over pickups high, under pickups low, over dropouts low, under dropouts high
 *
 * @example
 * import { rampError } from "tripwright/timeline";
 * rampError({ direction: "rising", rate: 0.5, operateDelay: 0.04 }).bias; // → 0.02
 * rampError({ direction: "falling", step: 0.1, dwell: 0.2, operateDelay: 0.04 }).bias; // → -0.05
 */
export function rampError(moving: MovingLevel): RampError {
  const { direction, operateDelay, rate, step, dwell } = options(moving, [
    "direction",
    "operateDelay",
    "rate",
    "step",
    "dwell",
  ]);
  const sign = nameIn(direction, { rising: true, falling: true }, "direction") === "rising" ? 1 : -1;
  atLeast(operateDelay, 0, "operateDelay", "a time", "s");
  if (rate !== undefined) {
    if (step !== undefined || dwell !== undefined)
      fail("conflict", "rate", "either a rate or a step with its dwell", rate);
    return { bias: sign * above(rate, 0, "rate", "a rate") * operateDelay + 0, spread: 0, standard: 0 };
  }
  above(step as number, 0, "step", "a step");
  above(dwell as Seconds, 0, "dwell", "a time", "s");
  const late = decimal(operateDelay, "operateDelay")
    .div(decimal(dwell as Seconds, "dwell"))
    .floor();
  const spread = (step as number) / 2;
  return {
    bias: sign * (step as number) * (0.5 + toNumber(late, "operateDelay")),
    spread,
    standard: spread / Math.sqrt(3),
  };
}

/** What a staircase has to satisfy. */
export interface RampWish {
  readonly from: number;
  readonly to: number;
  /** Half the width of the band that the reading is held against, in the unit of the level. */
  readonly tolerance: number;
  /** The share of it that one step may take. Default 0.2. */
  readonly share?: number;
  readonly operateDelay: Seconds;
  /** The smallest step of the source. Default: none. */
  readonly resolution?: number;
}

/** A staircase that satisfies a wish. */
export interface ChosenRamp extends RampError {
  readonly step: number;
  readonly dwell: Seconds;
  readonly levels: number;
  readonly totalTime: Seconds;
}

const DEFAULT_SHARE = 0.2;
const MOST_LEVELS = 100_000;

/**
 * The step and dwell of a staircase: the widest step of 1, 2 or 5 times a power of ten that is no wider than the share of the
 * tolerance and that the source can make; each level held for twice the delay (at least 50 ms, up to whole 10 ms), so that
 * no answer is a step late.
 *
 * @returns `none` with `"resolution-too-coarse"` where the smallest step of the source takes more than the share, or
 * `"too-many-levels"` for more than 100,000.
 * @throws A {@link InputError} for a tolerance, share or resolution that is not above 0, a negative delay, equal ends.
 * Accuracy: decimal arithmetic throughout.
 * @source common practice: a fifth of the tolerance
 *
 * @example
 * import { chooseRamp } from "tripwright/timeline";
 * const chosen = chooseRamp({ from: 3.6, to: 4.4, tolerance: 0.2, operateDelay: 0.04 });
 * chosen.kind === "found" && [chosen.step, chosen.dwell, chosen.levels, chosen.bias]; // → [0.02, 0.08, 41, 0.01]
 */
export function chooseRamp(wish: RampWish): Answer<ChosenRamp, "resolution-too-coarse" | "too-many-levels"> {
  const {
    from,
    to,
    tolerance,
    share = DEFAULT_SHARE,
    operateDelay,
    resolution,
  } = options(wish, ["from", "to", "tolerance", "share", "operateDelay", "resolution"]);
  above(tolerance, 0, "tolerance", "half the width of a band");
  above(share, 0, "share", "a share of the tolerance");
  atLeast(operateDelay, 0, "operateDelay", "a time", "s");
  const span = decimal(to, "to").minus(decimal(from, "from"));
  if (span.isZero()) fail("out-of-range", "to", "an end that is not the beginning", to);
  const most = decimal(tolerance, "tolerance").times(decimal(share, "share"));
  const unit =
    resolution === undefined ? undefined : decimal(above(resolution, 0, "resolution", "a step"), "resolution");
  if (unit?.gt(most)) return { kind: "none", reason: "resolution-too-coarse" };
  const power = decimal(`1e${most.e}`, "tolerance");
  const round = [5, 2, 1].map((digit) => power.times(digit)).find((candidate) => candidate.lte(most));
  const wanted = round ?? power;
  // A multiple of what the source can make, where it is no multiple already.
  const step = unit === undefined ? wanted : larger(unit, wanted.div(unit).floor().times(unit));
  const levels = span.abs().div(step).ceil().plus(1);
  if (levels.gt(MOST_LEVELS)) return { kind: "none", reason: "too-many-levels" };
  const dwell = Math.max(5, Math.ceil(2 * operateDelay * 100 - 1e-9)) / 100;
  const chosen = { step: toNumber(step, "step"), dwell };
  const direction = span.isNegative() ? "falling" : "rising";
  return {
    kind: "found",
    ...chosen,
    levels: toNumber(levels, "step"),
    totalTime: toNumber(levels.times(decimal(dwell, "dwell")), "dwell"),
    ...rampError({ direction, operateDelay, ...chosen }),
  };
}
