/** In which state an element is asked, and what it makes of what it sees there. */
import { eachChannel, type Segment, type Wiring } from "../base/sequence.js";
import { askedState, sweepStates } from "../base/states.js";
import {
  type Definition,
  definitionOf,
  type ElementSetting,
  inputsOf,
  type LevelUnit,
  type Observation,
  startLevel,
} from "../element/index.js";
import type { Situation } from "./situation.js";
import type { Taken } from "./taken.js";

const definitionFor = ({ function: name }: ElementSetting): Definition => definitionOf(name);

/** The state in which the element is asked: the fault, or the end of a sweep. */
export const askedIn = ({ check: { timeline } }: Taken): Segment | undefined => askedState(timeline);

/** What an element makes of a state of the channels. */
export const readBy = (setting: ElementSetting, { channels }: Segment, wiring: Wiring): Observation =>
  definitionFor(setting).read(inputsOf(channels, wiring), setting);

/** The states before the clock starts. */
export function statesBefore({ check: { timeline } }: Taken): readonly Segment[] {
  const start = timeline.segments.findIndex(({ clock }) => clock === "starts");
  return timeline.segments.slice(0, Math.max(0, start));
}

/** How far an element is beyond its start in a state of its check; infinitely far before it while it is blocked. */
function beyondIn(segment: Segment, taken: Taken, situation: Situation): number {
  const wiring = situation.wired(taken.check.timeline.wiring, taken);
  const { margin, blocked } = readBy(situation.setting(taken.setting), segment, wiring);
  return blocked ? Number.NEGATIVE_INFINITY : margin;
}

/** Whether it operates where it is asked. */
export function operatesWhereAsked(taken: Taken, situation: Situation): boolean {
  const segment = askedIn(taken);
  return segment !== undefined && beyondIn(segment, taken, situation) > 0;
}

/** The quantity that an element sees in a state, where it is not blocked there; functions whose angles count see none. */
export function seenIn(segment: Segment, taken: Taken, situation: Situation): number | undefined {
  const setting = situation.setting(taken.setting);
  if (definitionFor(setting).relates) return undefined;
  const { quantity, blocked } = readBy(setting, segment, situation.wired(taken.check.timeline.wiring, taken));
  return blocked ? undefined : situation.seen(quantity, taken);
}

/** What grows with the currents and voltages that are injected. */
const SIZES: readonly LevelUnit[] = ["A", "V"];

/**
 * Whether an element is blocked where its quantity is this large: the first state of the check, in which the quantity is
 * never 0, is scaled to it. A frequency, or what relates several quantities, cannot be scaled: it is read where it is asked.
 */
function isBlockedAt(quantity: number, taken: Taken, situation: Situation): boolean {
  const { segments, wiring: planned } = taken.check.timeline;
  const [first, asked] = [segments[0], askedIn(taken)];
  if (first === undefined || asked === undefined) return false;
  const setting = situation.setting(taken.setting);
  const wiring = situation.wired(planned, taken);
  const { relates = false, unit } = definitionFor(setting);
  if (relates || !SIZES.includes(unit)) return readBy(setting, asked, wiring).blocked;
  const factor = Math.max(0, quantity) / readBy(setting, first, wiring).quantity;
  const grown = eachChannel(first.channels, (state) => ({ ...state, rms: factor * state.rms }));
  return readBy(setting, { ...first, channels: grown }, wiring).blocked;
}

/** The quantity that an element sees where it is asked: what is injected, where a sweep back begins, or where it starts on the way. */
function quantityAsked(taken: Taken, situation: Situation): number {
  const { proves, sweep } = taken.check;
  if (proves === "operate-time" || proves === "no-operation") return situation.seen(taken.level, taken);
  if (proves === "dropout" && sweep !== undefined) return situation.seen(sweep.from, taken);
  return startLevel(situation.setting(taken.setting));
}

/**
 * Whether something keeps an element from operating though it is asked beyond its start: how quantities stand to each
 * other, a level that blocks it, or one that it waits for. What blocks an overvoltage function lies far below all that it
 * is asked for.
 */
export function isHeldBack(taken: Taken, situation: Situation): boolean {
  const setting = situation.setting(taken.setting);
  const { relates = false, side, unit } = definitionFor(setting);
  const isOver = side === "over" && SIZES.includes(unit);
  const isLimited = "blockBelow" in setting && !isOver;
  if ((relates || isLimited) && isBlockedAt(quantityAsked(taken, situation), taken, situation)) return true;
  return isAsideNow(taken, situation) || !isArmed(taken, situation);
}

/** The state in which it has surely started: where a sweep back begins, or where it is asked. */
function startedIn(taken: Taken): Segment | undefined {
  const { proves, sweep, timeline } = taken.check;
  return proves === "dropout" && sweep !== undefined ? sweepStates(timeline, sweep).settling : askedIn(taken);
}

/**
 * Whether it lies on the other side of its boundary where the sheet has it operate, though it starts at the same level and
 * sees the same: it looks the other way.
 */
function isAsideNow(taken: Taken, situation: Situation): boolean {
  const { setting: asOnSheet } = taken;
  const { wiring: planned } = taken.check.timeline;
  const setting = situation.setting(asOnSheet);
  const wiring = situation.wired(planned, taken);
  if (setting === asOnSheet && wiring === planned) return false;
  if (setting.pickup !== asOnSheet.pickup || situation.seen(1, taken) !== 1) return false;
  const state = startedIn(taken);
  if (state === undefined) return false;
  const now = readBy(setting, state, wiring);
  return !now.blocked && now.margin <= 0 && readBy(asOnSheet, state, planned).margin > 0;
}

/** A function that waits is armed by the state with which its check begins; as the sheet has it, it is armed. */
function isArmed(taken: Taken, situation: Situation): boolean {
  const setting = situation.setting(taken.setting);
  const { segments, wiring } = taken.check.timeline;
  const [first] = segments;
  if (first === undefined || waitsFor(setting) <= waitsFor(taken.setting)) return true;
  return readBy(setting, first, situation.wired(wiring, taken)).arms;
}

/** The level above which it is armed; 0 where it does not wait. */
const waitsFor = (setting: ElementSetting): number => ("armAbove" in setting ? (setting.armAbove ?? 0) : 0);

/** What becomes of a sweep: where it crosses the boundary, that it is beyond it from the beginning, or never comes there. */
export type Crossing = number | "from the beginning" | "never";

/**
 * Where a sweep crosses the boundary of an element, found by halving: between the ends it begins to operate once. Between
 * the last level without and the first with operation the way is straight, or the middle where it is blocked before. Nothing
 * where the states of the check are not one for each level.
 */
export function crossingOf(taken: Taken, situation: Situation): Crossing | undefined {
  const { sweep, timeline } = taken.check;
  if (sweep === undefined) return undefined;
  const { levels } = sweepStates(timeline, sweep);
  if (levels.length !== Math.round(Math.abs(sweep.to - sweep.from) / sweep.step) + 1) return undefined;
  const beyond = (i: number) => beyondIn(levels[i] as Segment, taken, situation);
  let [quiet, started] = [0, levels.length - 1];
  if (beyond(0) > 0) return "from the beginning";
  if (beyond(started) <= 0) return "never";
  while (started - quiet > 1) {
    const middle = Math.floor((quiet + started) / 2);
    if (beyond(middle) > 0) started = middle;
    else quiet = middle;
  }
  const [before, after] = [beyond(quiet), beyond(started)];
  const part = Number.isFinite(before) ? before / (before - after) : 0.5;
  return sweep.from + (quiet + part) * sweep.step * Math.sign(sweep.to - sweep.from);
}
