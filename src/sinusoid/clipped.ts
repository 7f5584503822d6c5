import type { Trace } from "./trace.js";

/**
 * The share of samples that lie flat on an extreme: three or more in a row, where the fundamental, with level and peak as
 * given, goes beyond that extreme. A coarse converter makes crests flat as well, but the fundamental goes beyond those by
 * half of its grain at most.
 */
export function clippedShare(
  { values, count, maximum, minimum, middle, half }: Trace,
  level: number,
  peak: number,
): number {
  let grain = 2;
  for (let i = 1; i < count; i++) {
    const gap = Math.abs(values[i]! - values[i - 1]!);
    if (gap > 0 && gap < grain) grain = gap;
  }
  let flat = 0;
  for (const [extreme, sign] of [
    [maximum, 1],
    [minimum, -1],
  ] as const) {
    if (sign * level + peak < 1 + grain / 2) continue;
    const top = (extreme - middle) / half;
    let run = 0;
    for (const x of values) {
      run = x === top ? run + 1 : 0;
      if (run > 2) flat += run > 3 ? 1 : 3;
    }
  }
  return flat / count;
}
