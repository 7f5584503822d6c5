/** One function over time: it starts, times, operates and lets go. */
import type { Seconds } from "../base/units.js";
import { advance, type CurveSetting, type TravelState } from "../curve/index.js";
import type { Stretch, Watched } from "./track.js";

/** What a function does. */
export type RehearsedStep = "started" | "operated" | "released";

/** Something that a function did. */
export interface Happening {
  readonly at: Seconds;
  readonly step: RehearsedStep;
}

/** A function as it is rehearsed: its settings with the errors that it plays. */
export interface Rehearsed extends Watched {
  readonly law: CurveSetting;
  /** Seconds that its contact is late (or early) beside its time law. */
  readonly late: Seconds;
}

/** Where a function stands. Times are absolute. */
export interface RelayState {
  readonly armed: boolean;
  /** Since when it has been beyond its start without letting go; absent while it is quiet. */
  readonly since?: Seconds;
  /** Since when it has been quiet again, while it still shows its start. */
  readonly quietSince?: Seconds;
  /** It shows its start, and its operation. */
  readonly shows: boolean;
  readonly operated: boolean;
  readonly travel: TravelState;
}

/** A function at rest; one that waits to be armed is not. */
export const atRest = ({ setting }: Watched): RelayState => ({
  armed: !("armAbove" in setting && setting.armAbove !== undefined),
  shows: false,
  operated: false,
  travel: { elapsed: 0, travel: 0 },
});

/** Where a function stands, and what it passes through from `now` on; nothing happens after `until`. */
interface Journey {
  readonly state: RelayState;
  readonly stretches: readonly Stretch[];
  readonly now: Seconds;
  readonly until: Seconds;
}

/** The state after some stretches, and what happened on the way. */
export function passed(
  rehearsed: Rehearsed,
  { state, stretches, now, until }: Journey,
): { readonly state: RelayState; readonly happenings: readonly Happening[] } {
  const happenings: Happening[] = [];
  let current = state;
  for (const [i, stretch] of stretches.entries()) {
    const begin = now + stretch.since;
    const end = i === stretches.length - 1 ? until : begin + stretch.duration;
    current = settled(rehearsed, changed(current, stretch, begin), begin, happenings);
    current = settled(rehearsed, travelled(rehearsed, current, stretch), end, happenings);
  }
  return { state: current, happenings };
}

/** What the beginning of a stretch changes: it starts, or it lets go. */
function changed(state: RelayState, { beyond, held, arms }: Stretch, at: Seconds): RelayState {
  const armed = state.armed || arms;
  if (state.since === undefined) {
    if (!(beyond && armed)) return { ...state, armed };
    const { quietSince: _, ...rest } = state;
    return { ...rest, armed, since: at };
  }
  if (held) return { ...state, armed };
  const { since: _, ...rest } = state;
  // What had travelled to the end runs back from there.
  const { elapsed, travel } = state.travel;
  return { ...rest, armed, quietSince: at, travel: { elapsed, travel: Math.min(1, travel) } };
}

const OVER_AT_REST = 0;
const UNDER_AT_REST = 10;

/** The time law along a stretch; where the function has not started it runs back, whatever the multiple says. */
function travelled({ law, thresholds }: Rehearsed, state: RelayState, { duration, from, to }: Stretch): RelayState {
  if (duration === 0) return state;
  const quiet = thresholds.dropout > thresholds.start ? UNDER_AT_REST : OVER_AT_REST;
  const isDefinite = typeof law.curve === "object" && law.curve.form === "definite";
  const isThermal = typeof law.curve === "object" && law.curve.form === "thermal";
  // A definite time runs on from start to dropout; a thermal image follows the current at all times.
  const running = isDefinite && state.since !== undefined ? beyondStart(thresholds) : undefined;
  const resting = state.since === undefined && !isThermal ? quiet : undefined;
  const [multiple, end] = [running ?? resting ?? from, running ?? resting ?? to];
  return { ...state, travel: advance(law, state.travel, { multiple, to: end, dt: duration }) };
}

const beyondStart = ({ start, dropout }: Thresholds): number => (dropout > start ? start / 2 : 2 * start);
type Thresholds = Watched["thresholds"];

/** Lets happen what is due up to an instant: the start shows after the measuring delay, and so does its end. */
function settled(rehearsed: Rehearsed, state: RelayState, until: Seconds, happenings: Happening[]): RelayState {
  const { measuringDelay } = rehearsed.setting;
  let current = state;
  if (current.since !== undefined && !current.shows) {
    const at = current.since + measuringDelay;
    if (at > until) return current;
    happenings.push({ at, step: "started" });
    current = { ...current, shows: true };
  }
  const due = operationDue(rehearsed, current);
  if (due !== undefined && due <= until) {
    happenings.push({ at: due, step: "operated" });
    current = { ...current, operated: true };
  }
  if (current.quietSince !== undefined && current.shows) {
    const at = current.quietSince + measuringDelay;
    if (at > until) return current;
    happenings.push({ at, step: "released" });
    const { quietSince: _, ...rest } = current;
    return { ...rest, shows: false, operated: false };
  }
  return current;
}

/** When the time law is done, and no earlier than the start shows; nothing where it is not done, or was told already. */
function operationDue({ late, setting }: Rehearsed, { operated, since, travel }: RelayState): Seconds | undefined {
  if (operated || since === undefined || travel.operatedAt === undefined) return undefined;
  return Math.max(travel.operatedAt + late, since + setting.measuringDelay);
}
