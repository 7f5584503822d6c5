/** What would be read in a situation, and how far that is from what was read. */
import { signedAngle } from "../base/degrees.js";
import { clockState } from "../base/states.js";
import { curveSide, operateTime } from "../curve/index.js";
import { definitionOf, dropoutLevel, type ElementSetting, startLevel } from "../element/index.js";
import type { Sweep } from "../plan/index.js";
import { answersBefore, levelsPassed } from "./answer.js";
import { crossingOf, isHeldBack, operatesWhereAsked, seenIn, statesBefore } from "./asked.js";
import { AS_WRITTEN, type Situation } from "./situation.js";
import type { Taken } from "./taken.js";

/** What is read: a level, a time, or a word. */
export type Predicted = number | "never" | "operated";

/** What would be read. The time law, start and dropout are those of `curve` and `element`. */
export function predict(taken: Taken, situation: Situation): Predicted {
  const setting = situation.setting(taken.setting);
  switch (taken.check.proves) {
    case "pickup":
      if (isHeldBack(taken, situation)) return "never";
      return inSweep(situation.levelWritten(startLevel(setting), taken), taken, situation);
    case "dropout":
      return isNeverStarted(taken, situation)
        ? "never"
        : inSweep(situation.levelWritten(dropoutLevel(setting), taken), taken, situation);
    case "edge":
      return atEdge(taken, situation);
    case "operate-time": {
      const time = contactTime(taken, situation);
      const isSeen = typeof taken.value === "number" || time < givenUpAfter(taken);
      return Number.isFinite(time) && isSeen ? situation.timeWritten(time, taken) : "never";
    }
    default:
      return staysQuiet(taken, situation) ? "never" : "operated";
  }
}

/**
 * Where the sweep of an edge meets it. What moves levels alone moves an edge that is counted as the setting is; what changes
 * the settings or the wiring moves it as far as it moves where the states that were really injected cross the boundary.
 */
function atEdge(taken: Taken, situation: Situation): Predicted {
  const { check, setting, value } = taken;
  const { expect, sweep, timeline, unit } = check;
  if (expect.form !== "band" || sweep === undefined) return "never";
  const { nominal } = expect.band;
  const { wiring } = timeline;
  const isAsPlanned = situation.setting(setting) === setting && situation.wired(wiring, taken) === wiring;
  const planned = isAsPlanned ? undefined : crossingOf(taken, AS_WRITTEN);
  const crossing = typeof planned === "number" ? crossingOf(taken, situation) : undefined;
  if (crossing === "never") return "never";
  // Where somebody went further back and read where it starts, nothing says where that should be.
  const isFurther = typeof value === "number" && Math.abs(value - sweep.from) > sweep.step;
  if (crossing === "from the beginning") return isFurther ? nominal : sweep.from;
  const at = nominal + (crossing ?? 0) - (crossing === undefined ? 0 : (planned as number));
  const level = unit === definitionOf(setting.function).unit ? situation.levelWritten(at, taken) : at;
  return inSweep(level, taken, situation);
}

/** It stays quiet because of what stands beside the level, which is no limit of the setting. */
const isAside = ({ check }: Taken): boolean => check.because.numbers["limit"] === undefined;

const staysQuiet = (taken: Taken, situation: Situation): boolean =>
  isAside(taken) ? !operatesWhereAsked(taken, situation) : beyondStart(taken, situation) <= 0;

function contactTime(taken: Taken, situation: Situation): number {
  if (isHeldBack(taken, situation)) return Number.POSITIVE_INFINITY;
  const way = wayBefore(taken, situation);
  // Where somebody read a time all the same, it was at rest before.
  const before = way > 1 && typeof taken.value === "number" ? 0 : way;
  if (before > 1) return Number.POSITIVE_INFINITY;
  const time = timeOf(situation.setting(taken.setting), situation.seen(taken.level, taken));
  return situation.contactTime(before > 0 ? time * (1 - before) : time, taken);
}

/**
 * Which part of the way to the contact lies behind an element as the clock starts, where the healthy system starts it. More
 * than all of it: the contact stood closed, and no clock sees it close.
 */
function wayBefore(taken: Taken, situation: Situation): number {
  const setting = situation.setting(taken.setting);
  return statesBefore(taken).reduce((way, segment) => {
    const quantity = seenIn(segment, taken, situation);
    return quantity === undefined ? way : way + segment.duration / timeOf(setting, quantity);
  }, 0);
}

/** No contact closes before the element has seen what it watches. */
function timeOf(setting: ElementSetting, quantity: number): number {
  return Math.max(
    operateTime({ startRatio: 1, ...setting.law }, Math.max(0, quantity / setting.pickup)),
    setting.measuringDelay,
  );
}

/** The way that a sweep has come, beyond a level. */
const beyond = (of: number, level: number, { from, to }: Sweep): number => (level - of) * Math.sign(to - from);

/**
 * What is read of a level that is met on the way. It is read half a step late on the average. A sweep that ends before it
 * reads nothing; one that begins where the element has started already reads the level at which it begins, unless somebody
 * went further back and read the start. Where the contact answers later than each level stands, it has moved on by then.
 */
function inSweep(level: number, taken: Taken, situation: Situation): Predicted {
  const { check, value } = taken;
  if (!Number.isFinite(level) || (level < 0 && check.proves !== "edge")) return "never";
  const { sweep } = check;
  if (sweep === undefined) return level;
  const { from, to, step } = sweep;
  const isBefore = beyond(from, level, sweep) < 0;
  const isFromBeginning = isBefore && (typeof value !== "number" || Math.abs(value - from) <= step);
  const passed = levelsPassed(taken, situation, isFromBeginning ? "from the beginning" : "on the way");
  const shown = (isFromBeginning ? from : level) + passed * step * Math.sign(to - from);
  if (!Number.isFinite(shown) || (typeof value !== "number" && beyond(to, shown, sweep) > 0)) return "never";
  return isFromBeginning ? shown : shown + (Math.sign(to - from) * step) / 2;
}

/** A dropout is not seen where the sweep begins before the start; where somebody read one all the same, it began further on. */
function isNeverStarted(taken: Taken, situation: Situation): boolean {
  const { sweep } = taken.check;
  if (sweep === undefined || typeof taken.value === "number") return false;
  if (isHeldBack(taken, situation)) return true;
  const start = situation.levelWritten(startLevel(situation.setting(taken.setting)), taken);
  if (!Number.isFinite(start) || beyond(sweep.from, start, sweep) < 0) return true;
  return !answersBefore(
    situation.levelWritten(dropoutLevel(situation.setting(taken.setting)), taken),
    taken,
    situation,
  );
}

/** How far the written level lies beyond the written start, positive where the element has started. */
function beyondStart(taken: Taken, situation: Situation): number {
  const setting = situation.setting(taken.setting);
  if (isHeldBack(taken, situation)) return -taken.level;
  const start = situation.levelWritten(startLevel(setting), taken);
  const beyond = Number.isFinite(start) ? taken.level - start : -taken.level;
  return curveSide(setting.law.curve) === "over" ? beyond : -beyond;
}

/**
 * Between a word and a number there is no difference to take. A reading that is there and should not be counts as far
 * off as what decides over it: the level from the start, the time from when the injection was given up, never more than
 * this many standard uncertainties, since a word bears no more than that.
 */
const MOST = 6;

/** Reading less prediction as a number, or how far apart a word and a number are in standard uncertainties. */
export type Gap = { readonly residual: number } | { readonly off: number };

export function gapOf(taken: Taken, situation: Situation): Gap {
  const predicted = predict(taken, situation);
  const { value, check, uncertainty } = taken;
  if (typeof value === "number" && typeof predicted === "number")
    // A turn more or less is the same angle.
    return { residual: check.unit === "°" ? signedAngle(value - predicted) : value - predicted };
  if (value === predicted) return { off: 0 };
  const most = mostOff(predicted, taken, situation);
  const far = (x: number, u: number) => ({ off: u > 0 ? Math.min(most, Math.abs(x) / u) : most });
  if (check.proves === "no-operation" && isAside(taken)) return { off: most };
  if (check.proves === "no-operation") return far(beyondStart(taken, situation), uncertainty.start);
  if (check.proves === "operate-time") {
    if (typeof predicted !== "number") return { off: Math.min(most, offFromStart(taken, situation)) };
    const away = far(beyondStart(taken, situation), uncertainty.start);
    const early = givenUpAfter(taken) - contactTime(taken, situation);
    return { off: Math.min(away.off, far(early, uncertainty.relay).off) };
  }
  const end = check.sweep?.to ?? 0;
  return typeof predicted === "number" ? far(predicted - end, uncertainty.start) : { off: most };
}

/** At how many places beyond the start a time is looked for, and how far, in standard uncertainties of the start. */
const PLACES = 24;

/**
 * How far a time that was read lies off where the element would not have started: as far as the start has to lie from where
 * it is, and the time then from what is read there. A definite time is the same however near the start lies.
 */
function offFromStart(taken: Taken, situation: Situation): number {
  const { start, relay, single } = taken.uncertainty;
  const missing = Math.max(0, -beyondStart(taken, situation));
  if (!(start > 0) || missing / start >= MOST) return Number.POSITIVE_INFINITY;
  const onwards = curveSide(situation.setting(taken.setting).law.curve) === "over" ? 1 : -1;
  const offs = Array.from({ length: PLACES + 1 }, (_, i) => {
    const moved = missing + MOST * start * Math.max(1e-6, i / PLACES);
    const time = contactTime({ ...taken, level: taken.level + onwards * moved }, situation);
    const residual = (taken.value as number) - situation.timeWritten(time, taken);
    return Math.hypot(moved / start, residual / Math.hypot(relay, single));
  });
  return Math.min(...offs);
}

/** What keeps an element quiet explains no number, however far that number is from the sheet. */
const mostOff = (predicted: Predicted, taken: Taken, situation: Situation): number =>
  typeof taken.value === "number" && predicted === "never" && situation !== AS_WRITTEN
    ? Math.max(MOST, Math.abs(offBy(taken, AS_WRITTEN)))
    : MOST;

const givenUpAfter = ({ check: { timeline } }: Taken): number => clockState(timeline)?.duration ?? 0;

/** How far a reading is from a situation, in standard uncertainties. */
export function offBy(taken: Taken, situation: Situation): number {
  const gap = gapOf(taken, situation);
  return "off" in gap ? gap.off : gap.residual / Math.hypot(taken.uncertainty.relay, taken.uncertainty.single);
}
