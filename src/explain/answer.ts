/** When the contact that a sweep watches answers, and how far the sweep has moved on by then. */
import { sweepStates } from "../base/states.js";
import type { Seconds } from "../base/units.js";
import type { Sweep } from "../plan/index.js";
import type { Situation } from "./situation.js";
import type { Taken } from "./taken.js";

/**
 * From the start to the contact: a trip contact closes after the delay, so that a level that stands for less shows nothing.
 * A start contact shows at once, and an inverse time is not swept on its trip contact.
 */
function answersAfter(taken: Taken, situation: Situation): Seconds {
  const { startContact } = taken.setting;
  const { law, measuringDelay } = situation.setting(taken.setting);
  const { curve, addedTime = 0 } = law;
  if (startContact !== undefined || typeof curve === "string" || curve.form !== "definite") return 0;
  return situation.contactTime(Math.max(curve.time + addedTime, measuringDelay), taken);
}

/** How long the level stands at which the sweep begins, until everything has settled. */
const settles = ({ check: { timeline } }: Taken, sweep: Sweep): Seconds =>
  sweepStates(timeline, sweep).settling?.duration ?? 0;

/**
 * How many levels pass between the start and the contact, where it starts on the way or has started as the sweep begins.
 * All of them where each begins from rest and ends before. What lets go does so at once.
 */
export function levelsPassed(taken: Taken, situation: Situation, starts: "on the way" | "from the beginning"): number {
  const { proves, sweep } = taken.check;
  if (sweep === undefined || proves === "dropout") return 0;
  const head = starts === "from the beginning" ? settles(taken, sweep) : 0;
  const passed = Math.floor(Math.max(0, answersAfter(taken, situation) - head) / sweep.hold);
  return sweep.rest === undefined || passed === 0 ? passed : Number.POSITIVE_INFINITY;
}

/** Whether a contact has answered before a sweep back comes to where the element lets go. */
export function answersBefore(dropout: number, taken: Taken, situation: Situation): boolean {
  const { sweep } = taken.check;
  if (sweep === undefined) return true;
  // At the level itself it lets go.
  const levels = Math.ceil(Math.abs(sweep.from - dropout) / sweep.step - 1e-6);
  return answersAfter(taken, situation) < settles(taken, sweep) + levels * sweep.hold;
}
