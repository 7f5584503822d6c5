/** In which state an element is asked, and what it makes of what it sees there. */
import type { Segment, Wiring } from "../base/sequence.js";
import { type Definition, definitionOf, type ElementSetting, inputsOf, type Observation } from "../element/index.js";
import type { Situation } from "./situation.js";
import type { Taken } from "./taken.js";

const definitionFor = ({ function: name }: ElementSetting): Definition => definitionOf(name) as unknown as Definition;

/** The state in which the element is asked: the fault, or the end of a sweep. */
export const askedIn = ({ check: { timeline } }: Taken): Segment | undefined =>
  timeline.segments.find(({ clock }) => clock === "starts") ?? timeline.segments.at(-1);

/** What an element makes of a state of the channels. */
export const readBy = (setting: ElementSetting, { channels }: Segment, wiring: Wiring): Observation =>
  definitionFor(setting).read(inputsOf(channels, wiring), setting);

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

/** Whether an element that sets quantities against each other is kept from operating by how they stand. */
export function isBlocked(taken: Taken, situation: Situation): boolean {
  const setting = situation.setting(taken.setting);
  const segment = askedIn(taken);
  if (definitionFor(setting).relates !== true || segment === undefined) return false;
  return readBy(setting, segment, situation.wired(taken.check.timeline.wiring, taken)).blocked;
}

/** What becomes of a sweep: where it crosses the boundary, that it is beyond it from the beginning, or never comes there. */
export type Crossing = number | "from the beginning" | "never";

/**
 * Where a sweep crosses the boundary of an element, found by halving: between the ends it begins to operate once. Between
 * the last level without and the first with operation the way is straight, or the middle where it is blocked before. Nothing
 * where the states of the check are not one for each level.
 */
export function crossingOf(taken: Taken, situation: Situation): Crossing | undefined {
  const { sweep, timeline } = taken.check;
  // The first state, after the healthy system, stands where the sweep begins, until everything has settled.
  const states = timeline.segments.slice(sweep?.preFault === undefined ? 1 : 2);
  if (sweep === undefined || states.length !== Math.round(Math.abs(sweep.to - sweep.from) / sweep.step) + 1)
    return undefined;
  const beyond = (i: number) => beyondIn(states[i] as Segment, taken, situation);
  let [quiet, started] = [0, states.length - 1];
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
