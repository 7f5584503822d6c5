/** What one function makes of one state: stretches in which its multiple moves evenly and nothing else changes. */
import type { Segment, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { type Definition, definitionOf, type ElementSetting, type Observation } from "../element/index.js";
import { inputsAt, moves, type Turned } from "./source.js";

/** A stretch on one side of every threshold; `since` counts from the beginning of the state. */
export interface Stretch {
  readonly since: Seconds;
  readonly duration: Seconds;
  readonly from: number;
  readonly to: number;
  /** Beyond the start; the dropout has not been passed back; blocked; arms. As in the middle of the stretch. */
  readonly beyond: boolean;
  readonly held: boolean;
  readonly arms: boolean;
}

/** Where a function starts and lets go, as multiples of its setting. */
export interface Thresholds {
  readonly start: number;
  readonly dropout: number;
}

/** What is watched of a function, and how. */
export interface Watched {
  readonly setting: ElementSetting;
  readonly thresholds: Thresholds;
}

/** A moving state is looked at in so many parts, so that a quantity which rises and falls again is seen. */
const PARTS = 64;

/** The stretches of a state, each crossing of a threshold solved. A state that stands still is one stretch. */
export function trackOf(watched: Watched, segment: Segment, wiring: Wiring, turned: Turned): Stretch[] {
  const { setting } = watched;
  const { read, side } = definitionOf(setting.function) as unknown as Definition;
  const look = (since: Seconds): Observation => read(inputsAt(since, segment, wiring, turned), setting);
  const { duration } = segment;
  if (!moves(segment)) return [stretchOf([0, duration], [look(0), look(0)], look(0), { watched, side })];
  const instants = cutsOf(look, duration, { watched, side });
  const looks = instants.map(look);
  return instants.slice(1).map((end, i) => {
    const begin = instants[i] as Seconds;
    const ends = [looks[i], looks[i + 1]] as [Observation, Observation];
    return stretchOf([begin, end], ends, look((begin + end) / 2), { watched, side });
  });
}

interface Sided {
  readonly watched: Watched;
  readonly side: "over" | "under";
}

function stretchOf(
  [begin, end]: readonly [Seconds, Seconds],
  [first, last]: readonly [Observation, Observation],
  middle: Observation,
  { watched, side }: Sided,
): Stretch {
  const state = standingOf(middle, watched.thresholds, side);
  return { since: begin, duration: end - begin, from: first.multiple, to: last.multiple, ...state };
}

/** On which side of everything that counts an observation lies. */
function standingOf({ multiple, blocked, arms }: Observation, { start, dropout }: Thresholds, side: "over" | "under") {
  const past = (threshold: number) => (side === "over" ? multiple > threshold : multiple < threshold);
  const back = side === "over" ? multiple < dropout : multiple > dropout;
  return { beyond: !blocked && past(start), held: !blocked && !back, arms };
}

/** The ends of the stretches: even parts, and the instants between them at which something changes, to the last bits. */
function cutsOf(look: (since: Seconds) => Observation, duration: Seconds, { watched, side }: Sided): Seconds[] {
  const standing = (since: Seconds): string => {
    const { beyond, held, arms } = standingOf(look(since), watched.thresholds, side);
    return `${beyond}${held}${arms}`;
  };
  const parts = isStraight(look, duration) ? 1 : PARTS;
  const even = Array.from({ length: parts + 1 }, (_, i) => (duration * i) / parts);
  return even.flatMap((end, i) => (i === 0 ? [end] : [...changesBetween(standing, even[i - 1] as Seconds, end), end]));
}

/** A multiple that lies on the straight line between its ends at three places between moves evenly. */
function isStraight(look: (since: Seconds) => Observation, duration: Seconds): boolean {
  const [first, last] = [look(0).multiple, look(duration).multiple];
  return [0.25, 0.5, 0.75].every((share) => {
    const straight = first + (last - first) * share;
    return Math.abs(look(duration * share).multiple - straight) <= 1e-13 * Math.max(1, Math.abs(first), Math.abs(last));
  });
}

/** Where the standing changes between two instants; each change is closed in on by halving. */
function changesBetween(standing: (since: Seconds) => string, begin: Seconds, end: Seconds): Seconds[] {
  const found: Seconds[] = [];
  let from = begin;
  const last = standing(end);
  // Start, dropout, blocking and arming change once each at the most along an even movement.
  for (let i = 0; i < 4 && standing(from) !== last; i++) {
    const now = standing(from);
    let [low, high] = [from, end];
    for (let middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2) {
      if (standing(middle) === now) low = middle;
      else high = middle;
    }
    if (high >= end) break;
    found.push(high);
    from = high;
  }
  return found;
}
