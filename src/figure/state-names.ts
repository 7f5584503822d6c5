/** The names of the states above a figure over time: in one row or two, or as numbers with a list. */
import type { Seconds } from "../base/units.js";
import { widthOf } from "./labels.js";
import { plainText } from "./look.js";
import { pixelOf, type Scale, valueAtPixel } from "./scale.js";

/** A state of the sequence. */
export interface DrawnState {
  readonly name: string;
  readonly startedAt: Seconds;
  readonly endedAt: Seconds;
}

/** A name at its middle, in the row next to the panel (0) or in that above it (1). */
export interface StateName {
  readonly time: Seconds;
  readonly label: string;
  readonly row: 0 | 1;
}

/** The names, and where numbers stand for them what these mean. */
export interface StateNames {
  readonly names: readonly StateName[];
  readonly list: readonly string[];
}

/** Of more states than these neither names nor boundaries can be told apart. */
export const MOST_STATES = 30;
const GAP = 6;

/** Over a panel of so many pixels. */
export function stateNames(states: readonly DrawnState[], scale: Scale, width: number): StateNames {
  const names = states.map(({ name }) => plainText(name));
  const places = states.map(({ startedAt, endedAt }) => ({
    from: pixelOf(scale, startedAt, width),
    to: pixelOf(scale, endedAt, width),
  }));
  const within = places.map(({ from, to }, i) => widthOf(names[i] as string) + GAP < to - from);
  const at = (label: string, i: number, row: 0 | 1, middle = ((places[i]?.from ?? 0) + (places[i]?.to ?? 0)) / 2) => ({
    time: valueAtPixel(scale, middle, width),
    label,
    row,
  });
  const fitting = names.flatMap((label, i) => (within[i] ? [at(label, i, 0)] : []));
  if (fitting.length === states.length || states.length > MOST_STATES) return { names: fitting, list: [] };
  /** Each in the first row in which it leaves the one before alone; no further out than the panel. */
  const inTwoRows = (labels: readonly string[]): StateName[] => {
    const free: [number, number] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
    return labels.flatMap((label, i) => {
      const half = widthOf(label) / 2;
      const { from, to } = places[i] as (typeof places)[number];
      const middle = Math.max(half, Math.min((from + to) / 2, width - half));
      const row = ([0, 1] as const).find((one) => middle - half >= free[one]);
      if (row === undefined) return [];
      free[row] = middle + half + GAP;
      return [at(label, i, row, middle)];
    });
  };
  const staggered = inTwoRows(names);
  if (staggered.length === states.length) return { names: staggered, list: [] };
  return {
    names: inTwoRows(names.map((_, i) => `${i + 1}`)),
    list: [names.map((name, i) => `${i + 1} ${name}`).join(" · ")],
  };
}
