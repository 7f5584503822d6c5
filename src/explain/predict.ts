/** What would be read in a situation, and how far that is from what was read. */
import { curveSide, operateTime } from "../curve/index.js";
import { dropoutLevel, type ElementSetting, lawOf, startLevel } from "../element/index.js";
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
      return inSweep(situation.levelWritten(dropoutLevel(setting), taken), taken);
    case "operate-time": {
      const time = situation.timeWritten(timeOf(setting, situation.seen(taken.level, taken)), taken);
      return Number.isFinite(time) ? time : "never";
    }
    default:
      return beyondStart(taken, situation) > 0 ? "operated" : "never";
  }
}

/** No contact closes before the element has seen what it watches. */
function timeOf(setting: ElementSetting, quantity: number): number {
  return Math.max(operateTime(lawOf(setting), Math.max(0, quantity / setting.pickup)), setting.measuringDelay);
}

/** A sweep that ends before the element starts reads nothing. */
function inSweep(level: number, { check: { sweep }, value }: Taken): Predicted {
  if (!Number.isFinite(level) || level < 0) return "never";
  if (sweep === undefined || typeof value === "number") return level;
  return (level - sweep.to) * Math.sign(sweep.to - sweep.from) > 0 ? "never" : level;
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
    const late = givenUpAfter(taken) - predicted;
    return late <= 0 ? { off: 0 } : { off: Math.min(away.off, far(late, uncertainty.relay).off) };
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
