/** What one function makes of one state: stretches in which its multiple moves evenly and nothing else changes. */
import type { Seconds } from "../base/units.js";
import type { Curve } from "../curve/index.js";
import { definitionOf, type ElementSetting, type Observation } from "../element/index.js";
import { looksOf } from "./looks.js";
import type { Source } from "./source.js";

/** A stretch on one side of every threshold; `since` counts from the beginning of the state. */
export interface Stretch {
  readonly since: Seconds;
  readonly duration: Seconds;
  readonly from: number;
  readonly to: number;
  /** Beyond the start and not blocked. */
  readonly beyond: boolean;
  /** Not back behind the dropout, and not blocked. */
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
  readonly side: "over" | "under";
  readonly thresholds: Thresholds;
  /** Of the time law: a definite one does not ask how far beyond, a thermal image moves in level steps. */
  readonly form: Curve["form"];
}

/** The multiple at which a function that is blocked runs back. */
const quietMultiple = ({ side, thresholds: { start, dropout } }: Watched): number =>
  side === "over" ? 0 : 2 * Math.max(start, dropout);

/** The stretches of a state, each crossing of a threshold solved. A state that stands still is one stretch. */
export function trackOf(watched: Watched, { duration, at, moves }: Source): Stretch[] {
  const { setting, thresholds } = watched;
  const { read, unit, relates = false, bends = false } = definitionOf(setting.function);
  // Only what the function watches: a current function is deaf to voltages that turn.
  const { isSloping, turning } = moves[relates ? "all" : unit === "A" ? "currents" : "voltages"];
  const looked = new Map<Seconds, Observation>();
  const look = (since: Seconds): Observation => {
    const known = looked.get(since);
    if (known !== undefined) return known;
    const here = read(at(since), setting);
    const seen = turning === 0 ? here : settledOn(Object.values(thresholds), here);
    looked.set(since, seen);
    return seen;
  };
  if (!isSloping && turning === 0) {
    const seen = look(0);
    return [stretchOf([0, duration], [seen, seen, seen], watched)];
  }
  // Each side is a word of its own: quiet and blocked act alike, but a change from one to the other must be found.
  const standing = (since: Seconds) => Object.values(sidesOf(look(since), watched)).join();
  const all = looksOf({
    duration,
    multiple: (since) => look(since).multiple,
    standing,
    thresholds: Object.values(thresholds),
    bends,
    turning,
  });
  // A definite time does not ask how far beyond, unless its disk runs back by the multiple.
  const asks = watched.form !== "definite" || setting.law.reset?.form === "disk";
  const instants = asks ? all : changing(all, standing);
  const stretches = instants.slice(1).map((end, i) => {
    const begin = instants[i] as Seconds;
    const first = look(begin);
    return stretchOf([begin, end], [first, asks ? look((begin + end) / 2) : first, look(end)], watched);
  });
  return watched.form === "thermal" ? stretches.flatMap((stretch) => inLevels(stretch, duration)) : stretches;
}

/** How far the multiple of a phasor that turns may be off by rounding: it must not wander about a threshold on which it stands. */
const ROUNDING = 1e-15;

function settledOn(thresholds: readonly number[], seen: Observation): Observation {
  const on = thresholds.find((threshold) => Math.abs(seen.multiple - threshold) <= ROUNDING * threshold);
  return on === undefined || on === seen.multiple ? seen : { ...seen, multiple: on };
}

/** The first and the last instant, and those between them at which the standing is another than before. */
function changing(instants: readonly Seconds[], standing: (since: Seconds) => string): Seconds[] {
  const words = instants.map(standing);
  return instants.filter((_, i) => i === instants.length - 1 || words[i] !== words[i - 1]);
}

/**
 * The even movement with the same mean as what was seen at both ends and in the middle (the rule of Simpson). What is
 * bowed is kept on its own side of the thresholds, so that the time law sees no crossing where there is none.
 */
function stretchOf(
  [begin, end]: readonly [Seconds, Seconds],
  [first, middle, last]: readonly [Observation, Observation, Observation],
  watched: Watched,
): Stretch {
  const state = standingOf(middle, watched);
  const time = { since: begin, duration: end - begin };
  if (middle.blocked) return { ...time, ...state, from: quietMultiple(watched), to: quietMultiple(watched) };
  const bow = middle === first ? 0 : middle.multiple - (first.multiple + last.multiple) / 2;
  const lift = Math.abs(bow) <= 1e-12 * middle.multiple ? 0 : (2 / 3) * bow;
  const kept = (multiple: number) => onItsSide(multiple + lift, state, watched);
  return { ...time, ...state, from: kept(first.multiple), to: kept(last.multiple) };
}

/** On which side of everything that counts an observation lies. */
function sidesOf({ multiple, blocked, arms }: Observation, { side, thresholds: { start, dropout } }: Watched) {
  const beyond = side === "over" ? multiple > start : multiple < start;
  const back = side === "over" ? multiple < dropout : multiple > dropout;
  return { beyond, back, blocked, arms };
}

function standingOf(seen: Observation, watched: Watched) {
  const { beyond, back, blocked, arms } = sidesOf(seen, watched);
  return { beyond: !blocked && beyond, held: !blocked && !back, arms };
}

function onItsSide(
  multiple: number,
  { beyond, held }: Pick<Stretch, "beyond" | "held">,
  { side, thresholds: { start, dropout } }: Watched,
): number {
  const [inner, outer] = side === "over" ? [Math.max, Math.min] : [Math.min, Math.max];
  if (beyond) return inner(multiple, start);
  return held ? outer(inner(multiple, dropout), start) : Math.max(0, outer(multiple, dropout));
}

/** A state that moves goes into a thermal image in so many levels. */
const LEVELS = 1024;

/** Short levels that heat as much as the even movement does: each the root of its mean square. */
function inLevels(stretch: Stretch, whole: Seconds): Stretch[] {
  const { since, duration, from, to } = stretch;
  if (from === to) return [stretch];
  const count = Math.ceil((LEVELS * duration) / whole);
  const at = (i: number) => from + ((to - from) * i) / count;
  return Array.from({ length: count }, (_, i) => {
    const level = Math.sqrt((at(i) ** 2 + at(i) * at(i + 1) + at(i + 1) ** 2) / 3);
    return { ...stretch, since: since + (duration * i) / count, duration: duration / count, from: level, to: level };
  });
}
