/** One function over time: it starts, times, operates and lets go. */
import type { Seconds } from "../base/units.js";
import { advance, type CurveSetting, type TravelState } from "../curve/index.js";
import { coolingLeft } from "./thermal-cooling.js";
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

/** Instants that lie no further apart are one: the rounding of sums must not decide what comes first. */
export const hair = (at: Seconds): Seconds => 1e-12 * Math.max(1, at);

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
  /** When its time law is done. */
  readonly doneAt?: Seconds;
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
    current = settled(rehearsed, changed(rehearsed, current, stretch, begin), [begin, begin], happenings);
    current = settled(rehearsed, travelled(rehearsed, current, stretch), [begin, end], happenings);
  }
  return { state: current, happenings };
}

/** What the beginning of a stretch changes: it starts, or it lets go. */
function changed({ law }: Rehearsed, state: RelayState, stretch: Stretch, at: Seconds): RelayState {
  const armed = state.armed || stretch.arms;
  if (state.since === undefined) {
    if (!(stretch.beyond && armed)) return { ...state, armed };
    const { quietSince: _, ...rest } = state;
    return { ...rest, armed, since: at };
  }
  const left = state.operated ? coolingLeft(law, state.travel.travel, stretch.from) : 0;
  if (stretch.held || left > stretch.duration) return { ...state, armed };
  const { since: _, doneAt: __, ...rest } = state;
  const { elapsed, travel } = state.travel;
  return { ...rest, armed, quietSince: at + left, travel: { elapsed, travel } };
}

/** The time law along a stretch. */
function travelled(rehearsed: Rehearsed, state: RelayState, { duration, from, to }: Stretch): RelayState {
  if (duration === 0) return state;
  const { law, late, form } = rehearsed;
  const isThermal = form === "thermal";
  const isStarted = state.since !== undefined;
  if (!isStarted && !isThermal && state.travel.travel === 0)
    return { ...state, travel: { elapsed: state.travel.elapsed + duration, travel: 0 } };
  const running = isStarted ? runningMultiple(rehearsed) : undefined;
  const step = { multiple: running ?? from, to: running ?? to };
  const { operatedAt, ...travel } = advance(law, state.travel, { ...step, dt: duration });
  // An early contact (`late` below 0) needs the end of the law before it comes: it is foreseen as if the multiple stayed as
  // it is. So is an end that only rounding puts behind the end of the stretch, so that it counts in this stretch.
  const look = Math.max(-late, travel.travel > 1 - 1e-9 ? hair(travel.elapsed) : 0);
  const ahead = look > 0 ? (operatedAt ?? soon(law, travel, { multiple: step.to, dt: look })) : operatedAt;
  const doneAt = state.doneAt ?? ahead;
  const kept = operatedAt === undefined || isThermal ? travel : { ...travel, operatedAt };
  return { ...state, travel: kept, ...(doneAt !== undefined && isStarted && { doneAt }) };
}

const soon = (law: CurveSetting, travel: TravelState, step: { readonly multiple: number; readonly dt: Seconds }) =>
  advance(law, travel, step).operatedAt;

/** A definite time runs on from start to dropout, wherever the quantity lies; other laws follow it. */
function runningMultiple({ form, side, thresholds: { start } }: Rehearsed): number | undefined {
  if (form !== "definite") return undefined;
  return side === "over" ? 2 * start : start / 2;
}

/** Lets happen what is due up to an instant: the start shows after the measuring delay, and so does its end. */
function settled(
  rehearsed: Rehearsed,
  state: RelayState,
  [from, until]: readonly [Seconds, Seconds],
  happenings: Happening[],
): RelayState {
  const { measuringDelay } = rehearsed.setting;
  let current = state;
  if (current.since !== undefined && !current.shows) {
    const at = current.since + measuringDelay;
    if (at > until + hair(until)) return current;
    happenings.push({ at: Math.min(at, until), step: "started" });
    current = { ...current, shows: true };
  }
  const due = operationDue(rehearsed, current, from);
  if (due !== undefined && due <= until + hair(until)) {
    happenings.push({ at: Math.min(due, until), step: "operated" });
    current = { ...current, operated: true };
  }
  if (current.quietSince !== undefined && current.shows) {
    const at = current.quietSince + measuringDelay;
    if (at > until + hair(until)) return current;
    happenings.push({ at: Math.min(at, until), step: "released" });
    const { quietSince: _, ...rest } = current;
    return { ...rest, shows: false, operated: false };
  }
  return current;
}

/** When the contact closes: with the time law, no earlier than the start shows, and not in the past. */
function operationDue(
  { late, setting }: Rehearsed,
  { operated, since, doneAt }: RelayState,
  from: Seconds,
): Seconds | undefined {
  if (operated || since === undefined || doneAt === undefined) return undefined;
  return Math.max(doneAt + late, since + setting.measuringDelay, from);
}
