import type { Answer } from "../base/answer.js";
import { fail, nameIn, options } from "../base/check.js";
import { countSteps, type Decimal, decimal, type Exact, larger, toNumber } from "../base/exact.js";
import { positive } from "../base/positive.js";
import type { Seconds } from "../base/units.js";
import { gridOf, MOST_LEVELS } from "./levels.js";
import { type Delay, type DelayRange, delayRange, type RampError, rampError } from "./ramp-error.js";

interface Wish {
  readonly from: Exact;
  readonly to: Exact;
  /** Half the width of the band that the reading is held against, in the unit of the level. */
  readonly tolerance: Exact;
  /** The share of it that the movement may take, up to 1. Default 0.2. */
  readonly share?: Exact;
  /** From the crossing of the threshold to the contact, in seconds; a range where it scatters. */
  readonly operateDelay: Exact | DelayRange;
  /**
   * What has to stay within the share: |bias| + spread, or the spread alone where the bias will be taken off the reading.
   * Default: false, all of it.
   */
  readonly corrected?: boolean;
}

/** What a staircase has to satisfy. */
export interface StaircaseWish extends Wish {
  readonly movement?: "staircase";
  /** The smallest step of the source, in the unit of the level. Default: none. */
  readonly resolution?: Exact;
  /** Seconds for which each level is held beyond the longest delay, above 0. Default: as long again. */
  readonly margin?: Exact;
}

/** What an even movement has to satisfy. */
export interface LinearWish extends Wish {
  readonly movement: "linear";
}

/** A staircase that satisfies a wish. */
export interface ChosenStaircase extends RampError {
  readonly step: number;
  readonly dwell: Seconds;
  readonly levels: number;
  readonly totalTime: Seconds;
}

/** An even movement that satisfies a wish. */
export interface ChosenLinear extends RampError {
  /** Change a second, in the unit of the level. */
  readonly rate: number;
  readonly totalTime: Seconds;
}

const COMMON = ["from", "to", "tolerance", "share", "operateDelay", "corrected", "movement"] as const;
const MOVEMENTS = { staircase: [...COMMON, "resolution", "margin"], linear: COMMON } as const;
const DEFAULT_SHARE = 0.2;

/**
 * How to move a level so that the movement takes no more than a share of the tolerance.
 *
 * A staircase: the widest step of 1, 2 or 5 times a power of ten for which the error stays within the share, and that is a
 * multiple of what the source can make (of a resolution that none of them is a multiple of: 1, 2, 5, 10, … times itself);
 * each level is held for the longest delay and a margin, up to whole 10 ms and at least 50 ms, so that no answer is a step
 * late. An even movement: the fastest rate of 1, 2 or 5 times a power of ten for which the error stays within the share.
 *
 *     staircase:  step ≤ share · tolerance,              corrected: step/2 ≤ share · tolerance
 *     linear:     rate · maximum ≤ share · tolerance,    corrected: rate · (maximum − minimum)/2 ≤ share · tolerance
 *
 * @returns With the error of {@link rampError} and the time for the whole range. `none` with `"resolution-too-coarse"`
 * where the smallest step of the source takes more than the share, `"too-many-levels"` for more than 100,000, and
 * `"any-rate"` where nothing limits a rate: no delay, or one that does not scatter and whose bias is taken off.
 * @throws A {@link InputError} for a tolerance, share, resolution or margin that is not above 0, a share above 1, a negative delay, equal
 * ends, and for a resolution or a margin of an even movement.
 * Accuracy: decided in exact decimals.
 * @source common practice: a fifth of the tolerance
 *
 * @example
 * import { chooseRamp } from "tripwright/timeline";
 * const chosen = chooseRamp({ from: 3.6, to: 4.4, tolerance: 0.2, operateDelay: 0.04 });
 * chosen.kind === "found" && [chosen.step, chosen.dwell, chosen.levels, chosen.bias]; // → [0.02, 0.08, 41, 0.01]
 * const slow = chooseRamp({ movement: "linear", from: 50, to: 48, tolerance: 0.01, operateDelay: 0.1 });
 * slow.kind === "found" && [slow.rate, slow.totalTime, slow.bias]; // → [0.02, 100, -0.002]
 */
export function chooseRamp(wish: StaircaseWish): Answer<ChosenStaircase, "resolution-too-coarse" | "too-many-levels">;
export function chooseRamp(wish: LinearWish): Answer<ChosenLinear, "any-rate">;
export function chooseRamp(wish: StaircaseWish | LinearWish): Answer<ChosenStaircase | ChosenLinear, string> {
  const read = readWish(wish);
  return wish.movement === "linear" ? linearWithin(wish, read) : staircaseWithin(wish, read);
}

interface Read {
  /** With its sign. */
  readonly span: Decimal;
  readonly direction: "rising" | "falling";
  /** The most that the error may be. */
  readonly allowed: Decimal;
  readonly delay: Delay;
  readonly corrected: boolean;
}

function readWish(wish: StaircaseWish | LinearWish): Read {
  const movement = nameIn(wish?.movement ?? "staircase", MOVEMENTS, "movement");
  const { from, to, tolerance, share = DEFAULT_SHARE, corrected = false } = options(wish, MOVEMENTS[movement]);
  if (typeof corrected !== "boolean") fail("wrong-type", "corrected", "true or false", corrected);
  const span = decimal(to, "to").minus(decimal(from, "from"));
  if (span.isZero()) fail("out-of-range", "to", "an end that is not the beginning", to);
  const half = positive(tolerance, "tolerance", "half the width of a band");
  const part = positive(share, "share", "a share of the tolerance");
  if (part.gt(1)) fail("out-of-range", "share", "a share of the tolerance, up to 1: 0.2 for 20 %", share);
  return {
    span,
    direction: span.isNegative() ? "falling" : "rising",
    allowed: half.times(part),
    delay: delayRange(wish.operateDelay),
    corrected,
  };
}

function staircaseWithin(
  wish: StaircaseWish,
  { direction, allowed, delay, corrected }: Read,
): Answer<ChosenStaircase, "resolution-too-coarse" | "too-many-levels"> {
  const { from, to, operateDelay } = wish;
  const widest = stepWithin(allowed.times(corrected ? 2 : 1), wish.resolution);
  if (widest === undefined) return { kind: "none", reason: "resolution-too-coarse" };
  const step = toNumber(widest, "tolerance");
  const { count } = gridOf({ from, to, step });
  if (count.gt(MOST_LEVELS)) return { kind: "none", reason: "too-many-levels" };
  const dwell = dwellFor(delay, wish.margin);
  return {
    kind: "found",
    step,
    dwell,
    levels: count.toNumber(),
    totalTime: toNumber(count.times(decimal(dwell, "dwell")), "operateDelay"),
    ...rampError({ direction, operateDelay, step, dwell }),
  };
}

function linearWithin(
  { operateDelay }: LinearWish,
  { span, direction, allowed, delay, corrected }: Read,
): Answer<ChosenLinear, "any-rate"> {
  const errorPerRate = corrected ? delay.maximum.minus(delay.minimum).div(2) : delay.maximum;
  if (!errorPerRate.gt(0)) return { kind: "none", reason: "any-rate" };
  const fastest = roundedDown(allowed.div(errorPerRate));
  const rate = toNumber(fastest, "tolerance");
  return {
    kind: "found",
    rate,
    totalTime: toNumber(span.abs().div(fastest), "tolerance"),
    ...rampError({ direction, operateDelay, rate }),
  };
}

/** The widest round step up to a limit that the source can make; none where it can make none so small. */
function stepWithin(limit: Decimal, resolution: Exact | undefined): Decimal | undefined {
  if (resolution === undefined) return roundedDown(limit);
  const unit = positive(resolution, "resolution", "a step");
  const units = countSteps(limit, unit).whole;
  if (units.isZero()) return undefined;
  // Two decades are enough: where no step of both is a multiple, none of those that divide them is.
  const round = roundSteps(limit).find((step) => step.gte(unit) && countSteps(step, unit).even);
  return round ?? roundedDown(units).times(unit);
}

/** The numbers 1, 2 and 5 times a power of ten up to a limit, the largest first, over two decades and what rounding hides. */
function roundSteps(limit: Decimal): Decimal[] {
  return [100, 50, 20, 10, 5, 2, 1]
    .map((digits) => decimal(`${digits}e${limit.e - 1}`, "tolerance"))
    .filter((step) => countSteps(limit, step).whole.gte(1));
}

const roundedDown = (limit: Decimal): Decimal => roundSteps(limit)[0] as Decimal;

/** The shortest hold of a level; what people set on a source goes in whole 10 ms. */
const LEAST_DWELL = "0.05";
const TICK = "0.01";

function dwellFor({ maximum }: Delay, margin: Exact | undefined): Seconds {
  const beyond = margin === undefined ? maximum : positive(margin, "margin", "a time", "s");
  const tick = decimal(TICK, "dwell");
  const { whole, even } = countSteps(maximum.plus(beyond), tick);
  const rounded = tick.times(whole.plus(even ? 0 : 1));
  return toNumber(larger(rounded, decimal(LEAST_DWELL, "dwell")), "operateDelay");
}
