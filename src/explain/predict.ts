/** What would be read in a situation, and how far that is from what was read. */
import { curveSide, operateTime } from "../curve/index.js";
import { definitionOf, dropoutLevel, type ElementSetting, startLevel } from "../element/index.js";
import type { Sweep } from "../plan/index.js";
import type { Situation } from "./situation.js";
import type { Taken } from "./taken.js";

/** What is read: a level, a time, or a word. */
export type Predicted = number | "never" | "operated";

/** What would be read. The time law, start and dropout are those of `curve` and `element`. */
export function predict(taken: Taken, situation: Situation): Predicted {
  const setting = situation.setting(taken.setting);
  switch (taken.check.proves) {
    case "pickup":
      return inSweep(situation.levelWritten(startLevel(setting), taken), taken);
    case "dropout":
      return isNeverStarted(taken, situation)
        ? "never"
        : inSweep(situation.levelWritten(dropoutLevel(setting), taken), taken);
    case "edge":
      return inSweep(edgeWritten(setting, taken, situation), taken);
    case "operate-time": {
      const time = contactTime(taken, situation);
      const isSeen = typeof taken.value === "number" || time < givenUpAfter(taken);
      return Number.isFinite(time) && isSeen ? situation.timeWritten(time, taken) : "never";
    }
    default:
      // A level beside the boundary, such as a fault behind, says nothing of where the pickup lies.
      if (taken.check.because.numbers["limit"] === undefined) return "never";
      return beyondStart(taken, situation) > 0 ? "operated" : "never";
  }
}

/** A place on the boundary that is counted as the setting is moves with it; no cause moves one in angle. */
function edgeWritten(setting: ElementSetting, taken: Taken, { levelWritten }: Situation): number {
  const { expect, unit } = taken.check;
  const nominal = expect.form === "band" ? expect.band.nominal : Number.NaN;
  if (unit !== definitionOf(setting.function).unit) return nominal;
  return levelWritten((startLevel(setting) / startLevel(taken.setting)) * nominal, taken);
}

function contactTime(taken: Taken, situation: Situation): number {
  const time = timeOf(situation.setting(taken.setting), situation.seen(taken.level, taken));
  return situation.contactTime(time, taken);
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
 * went further back and read the start.
 */
function inSweep(level: number, { check, value }: Taken): Predicted {
  if (!Number.isFinite(level) || (level < 0 && check.proves !== "edge")) return "never";
  const { sweep } = check;
  if (sweep === undefined) return level;
  const { from, to, step } = sweep;
  const late = level + (Math.sign(to - from) * step) / 2;
  if (typeof value !== "number" && beyond(to, level, sweep) > 0) return "never";
  const isBefore = beyond(from, level, sweep) < 0;
  return isBefore && (typeof value !== "number" || Math.abs(value - from) <= step) ? from : late;
}

/** A dropout is not seen where the sweep begins before the start; where somebody read one all the same, it began further on. */
function isNeverStarted(taken: Taken, situation: Situation): boolean {
  const { sweep } = taken.check;
  if (sweep === undefined || typeof taken.value === "number") return false;
  const start = situation.levelWritten(startLevel(situation.setting(taken.setting)), taken);
  return !Number.isFinite(start) || beyond(sweep.from, start, sweep) < 0;
}

/** How far the written level lies beyond the written start, positive where the element has started. */
function beyondStart(taken: Taken, situation: Situation): number {
  const setting = situation.setting(taken.setting);
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
  if (typeof value === "number" && typeof predicted === "number") return { residual: value - predicted };
  if (value === predicted) return { off: 0 };
  const far = (x: number, u: number) => ({ off: u > 0 ? Math.min(MOST, Math.abs(x) / u) : MOST });
  if (check.proves === "no-operation") return far(beyondStart(taken, situation), uncertainty.start);
  if (check.proves === "operate-time") {
    const away = far(beyondStart(taken, situation), uncertainty.start);
    if (typeof predicted !== "number") return away;
    const early = givenUpAfter(taken) - contactTime(taken, situation);
    return { off: Math.min(away.off, far(early, uncertainty.relay).off) };
  }
  const end = check.sweep?.to ?? 0;
  return typeof predicted === "number" ? far(predicted - end, uncertainty.start) : { off: MOST };
}

const givenUpAfter = ({ check: { timeline } }: Taken): number =>
  timeline.segments.find(({ clock }) => clock === "starts")?.duration ?? 0;

/** How far a reading is from a situation, in standard uncertainties. */
export function offBy(taken: Taken, situation: Situation): number {
  const gap = gapOf(taken, situation);
  return "off" in gap ? gap.off : gap.residual / Math.hypot(taken.uncertainty.relay, taken.uncertainty.single);
}
