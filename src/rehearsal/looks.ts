/** When to look at a quantity that moves, so that nothing which happens between two looks is missed. */
import { bottomBetween } from "../base/bracket.js";
import { fail } from "../base/check.js";
import type { Degrees, Seconds } from "../base/units.js";

/** A state as a function sees it. */
export interface Seen {
  readonly duration: Seconds;
  /** The multiple at an instant, counted from the beginning of the state. */
  readonly multiple: (since: Seconds) => number;
  /** On which side of everything that counts the function stands then, as a word. */
  readonly standing: (since: Seconds) => string;
  /** The multiples that count. */
  readonly thresholds: readonly number[];
  /** Its quantity may bend back on the way although nothing turns. */
  readonly bends: boolean;
  /** How fast channels turn against each other, at the most, in degrees a second. */
  readonly turning: number;
}

/** At least so many parts, and between two looks no channel turns further against another. */
const PARTS = 64;
const TURN: Degrees = 2;
const MOST_PARTS = 10_000;

/**
 * The beginning, the end, and the looks between them: even parts, the bottoms and tops that lie near a threshold, and each
 * instant at which the standing changes, to the last bits.
 */
export function looksOf(seen: Seen): Seconds[] {
  const parts = partsOf(seen);
  const even = Array.from({ length: parts + 1 }, (_, i) => (seen.duration * i) / parts);
  const all = parts === 1 ? even : [...new Set([...even, ...turningPoints(even, seen)])].sort((a, b) => a - b);
  return all.flatMap((end, i) => (i === 0 ? [end] : [...changesBetween(all[i - 1] as Seconds, end, seen), end]));
}

function partsOf(seen: Seen): number {
  if (seen.turning === 0 && !seen.bends && isStraight(seen)) return 1;
  const parts = Math.max(PARTS, Math.ceil((seen.turning * seen.duration) / TURN));
  if (parts > MOST_PARTS)
    fail("too-many", "duration", `at most ${MOST_PARTS} parts of ${TURN}° in which channels turn`, parts);
  return parts;
}

/** Where nothing turns, magnitudes are convex: one that meets the straight line between its ends on the way is straight. */
function isStraight({ duration, multiple }: Seen): boolean {
  const [first, last] = [multiple(0), multiple(duration)];
  const least = 1e-13 * Math.max(1, Math.abs(first), Math.abs(last));
  // The places are uneven, for the lowest of several magnitudes, which need not be convex.
  return [0.07, 0.23, 0.39, 0.5, 0.61, 0.78, 0.94].every(
    (share) => Math.abs(multiple(duration * share) - first - (last - first) * share) <= least,
  );
}

/** Tops and bottoms between the looks, where the quantity may pass a threshold and come back. */
function turningPoints(instants: readonly Seconds[], { multiple, thresholds }: Seen): Seconds[] {
  const multiples = instants.map(multiple);
  return instants.flatMap((instant, i) => {
    const here = multiples[i] as number;
    const sides = [multiples[i - 1] ?? here, multiples[i + 1] ?? here];
    const [isBottom, isTop] = [here <= Math.min(...sides), here >= Math.max(...sides)];
    // Between two looks it goes no further than from one to the next.
    const reach = 2 * Math.max(...sides.map((side) => Math.abs(side - here)));
    if (isBottom === isTop || !thresholds.some((threshold) => Math.abs(threshold - here) <= reach)) return [];
    const depth = (since: Seconds) => (isBottom ? multiple(since) : -multiple(since));
    return [bottomBetween(depth, [instants[i - 1] ?? instant, instants[i + 1] ?? instant])];
  });
}

/** Where the standing changes between two instants; each change is closed in on by halving. */
function changesBetween(begin: Seconds, end: Seconds, { standing }: Seen): Seconds[] {
  const found: Seconds[] = [];
  const last = standing(end);
  let from = begin;
  // Start, dropout, blocking and arming change once each at the most between two looks.
  for (let now = standing(from); now !== last && found.length < 4; now = standing(from)) {
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
