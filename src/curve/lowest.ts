/** Where a value that depends on a current is least: at one of some currents, or in a whole range of them. */
import { bottomBetween } from "../base/bracket.js";
import type { Amperes } from "../base/units.js";

const PLACES = 256;

/**
 * Currents so close together that between two of them a margin turns once at most: half of them even in the logarithm,
 * half closing in on the cuts, down to the doubles beside them.
 */
export function gridOf(range: readonly Amperes[], cuts: readonly Amperes[]): readonly Amperes[] {
  const [from, to] = range as [Amperes, Amperes];
  const inside = cuts.filter((cut) => cut > from && cut < to);
  const ends = [...inside, ...range].sort((a, b) => a - b);
  const between = ends.slice(1).flatMap((right, n) => {
    const left = ends[n] as Amperes;
    return Array.from({ length: PLACES }, (_, i) => {
      const share = i % 2 === 0 ? i / PLACES : 1 / (1 + Math.exp(36 - (72 * i) / PLACES));
      return Math.min(left * (right / left) ** share, right);
    });
  });
  return [...between, ...ends].sort((a, b) => a - b);
}

/** Where a value is least: at one of the grid's currents or, in a range, at the bottom of a dip beside it. */
export function lowest(grid: readonly Amperes[], value: (current: Amperes) => number, isRange: boolean): Amperes {
  const values = grid.map(value);
  const bottoms = grid.flatMap((current, i) => {
    const here = values[i] as number;
    const sides = [values[i - 1] ?? here, values[i + 1] ?? here];
    const isDip = isRange && here <= Math.min(...sides) && Math.max(...sides) - here > 1e-12;
    return isDip ? [i - 1, i + 1].map((side) => bottomBetween(value, [current, grid[side] ?? current])) : [];
  });
  const all = [...values, ...bottoms.map(value)];
  return [...grid, ...bottoms][all.indexOf(all.reduce((a, b) => Math.min(a, b)))] as Amperes;
}
