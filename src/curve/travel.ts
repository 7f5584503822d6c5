/**
 * Travel over time: how a function goes from rest to operation while its multiple changes, by the integral of the
 * standards. Everything that happens over time goes through `advanced`, piece by piece.
 */
import { rootOfIncreasing } from "../base/bracket.js";
import { fail } from "../base/check.js";
import { integral } from "../base/quadrature.js";
import type { Piece } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { kinksOf } from "./kinks.js";
import { isStarted, type ReadySetting, travelTime } from "./ready.js";
import { isReleased, type Release } from "./reset.js";
import { thermalPiece } from "./thermal.js";
import type { TravelState, Underway } from "./travel-state.js";

/** The state after a stretch. Once it has operated, only time goes on. */
export function advanced(ready: ReadySetting, release: Release, state: Underway, stretch: Piece): Underway {
  if (ready.curve.form === "thermal") return thermalPiece(ready, state, stretch);
  let now = state;
  for (const part of partsOf(ready, release, stretch)) now = advancedInside(ready, release, now, part);
  return now;
}

/** The stretch cut where it crosses start, dropout, ceiling, the setting itself, and kinks of the curve. */
function partsOf(ready: ReadySetting, { dropout }: Release, { duration, from, to }: Piece): Piece[] {
  if (from === to) return [{ duration, from, to }];
  const cuts = [ready.startRatio, dropout, ready.ceilingMultiple, 1, ...kinksOf(ready.curve)]
    .filter((cut) => (cut - from) * (cut - to) < 0)
    .sort((a, b) => (to > from ? a - b : b - a));
  const ends = [from, ...cuts, to];
  return ends.slice(1).map((end, i) => {
    const begin = ends[i] as number;
    return { duration: duration * ((end - begin) / (to - from)), from: begin, to: end };
  });
}

/** A part lies wholly on one side of every threshold; its middle says on which. */
function advancedInside(ready: ReadySetting, release: Release, state: Underway, part: Piece): Underway {
  const elapsed = state.elapsed + part.duration;
  if (state.operatedAt !== undefined) return { ...state, elapsed };
  const middle = 0.5 * part.from + 0.5 * part.to;
  if (isStarted(ready, middle)) return forward(ready, state, part);
  if (isReleased(ready, release, middle) || state.released !== undefined)
    return { elapsed, ...back(ready, release, state, part) };
  // Between dropout and start, and not let go: the travel is held.
  const { started } = state;
  return { ...state, elapsed, ...(started !== undefined && { started: started + part.duration }) };
}

/** Forward: operated once travel is full and the floor on the time since the start has passed. */
function forward(ready: ReadySetting, state: Underway, part: Piece): Underway {
  const { elapsed, travel, lost = 0 } = state;
  const since = state.started ?? 0;
  const missing = 1 - travel - lost;
  const full = missing > 0 ? timeToFull(ready, missing, part) : 0;
  const wait = Math.max(full ?? Number.POSITIVE_INFINITY, ready.minimumTime - since);
  const common = { elapsed: elapsed + part.duration, started: since + part.duration };
  if (wait <= part.duration) return { ...common, travel: 1, operatedAt: elapsed + wait + ready.addedTime };
  if (full !== undefined) return { ...common, travel: 1 };
  const gained = gain(ready, part, part.duration) + lost;
  const reached = Math.min(1, travel + gained);
  // Written out: a record of a million samples comes here for each of them.
  return { elapsed: common.elapsed, started: common.started, travel: reached, lost: gained - (reached - travel) };
}

/** When a part brings the missing travel; nothing where it does not. */
function timeToFull(ready: ReadySetting, missing: number, part: Piece): Seconds | undefined {
  const { duration, from, to } = part;
  if (from === to) {
    const time = missing * travelTime(ready, from);
    return time <= duration ? time : undefined;
  }
  const whole = gain(ready, part, duration);
  if (!(whole >= missing)) return undefined;
  if (whole === Number.POSITIVE_INFINITY) return 0;
  const slope = (time: number) => 1 / travelTime(ready, from + (to - from) * (time / duration));
  return rootOfIncreasing((time) => gain(ready, part, time) - missing, slope, [0, duration]);
}

/** Travel gained in the first `time` seconds of a part: ∫ dt/t(M). */
function gain(ready: ReadySetting, { duration, from, to }: Piece, time: Seconds): number {
  if (time === 0) return 0;
  const end = from + (to - from) * (time / duration);
  if (from === end) return time / travelTime(ready, from);
  const [low, high] = [Math.min(from, end), Math.max(from, end)];
  // Over half the multiple, so that the sum of two of the largest doubles is one.
  const rate = (half: number) => 1 / travelTime(ready, 2 * half);
  return time * (integral(rate, low / 2, high / 2) / (high / 2 - low / 2));
}

/** Back to rest, as the release says; the accumulator ends at zero. On the way it remembers that it has let go. */
function back(
  ready: ReadySetting,
  { reset }: Release,
  state: TravelState,
  { duration, from, to }: Piece,
): Pick<TravelState, "travel" | "released"> {
  const released = (state.released ?? 0) + duration;
  switch (reset.form) {
    case "instantaneous":
      return { travel: 0 };
    case "definite":
      return released >= reset.time || state.travel === 0 ? { travel: 0 } : { travel: state.travel, released };
    case "disk": {
      // The mean of 1 − M² over an even movement; a disk at or above its setting does not run back.
      const mean = 1 - (from * from + from * to + to * to) / 3;
      const travel = state.travel - Math.max(0, (mean * duration) / (ready.multiplier * reset.time));
      return travel > 0 ? { travel, released } : { travel: 0 };
    }
    case "cooling":
      return fail("not-applicable", "reset", "a reset of a curve that is not thermal", reset.form);
  }
}
