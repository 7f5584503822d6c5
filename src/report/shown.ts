/** Numbers as they are printed in a record: limits rounded inward, so that what is printed never contradicts a verdict. */
import type { Band } from "../base/band.js";
import { plain, written } from "../base/written.js";
import { roundTo } from "../grading/index.js";
import type { Unit } from "../plan/index.js";

const DECIMALS: Readonly<Record<Unit, number>> = { s: 3, A: 3, V: 2, Hz: 3, "Hz/s": 3, "°": 2, W: 2, ohm: 3, "1": 3 };
const MOST_DECIMALS = 12;

/** A band and its readings as text. */
export interface Shown {
  /** `1.198 to 1.323 s`, `at most 0.040 s`, `at least 3.800 A`. */
  readonly band: string;
  readonly nominal: string;
  /** In the order of the readings. */
  readonly measured: readonly string[];
}

/**
 * Prints a band and what was measured against it with as many decimals as it takes for the printed reading to lie on the
 * same side of the printed limits as the real one does of the real ones.
 */
export function shown(band: Band, readings: readonly number[], unit: Unit): Shown {
  const decimals = decimalsFor(band, readings, unit);
  const { low, high } = printedLimits(band, readings, decimals);
  const digits = (x: number) => x.toFixed(decimals);
  const text = (x: number) => written(digits(x), unit);
  return {
    band: written(
      bandInWords(low === undefined ? undefined : digits(low), high === undefined ? undefined : digits(high)),
      unit,
    ),
    nominal: text(nearest(band.nominal, decimals)),
    measured: readings.map((reading) => text(nearest(reading, decimals))),
  };
}

function bandInWords(low: string | undefined, high: string | undefined): string {
  if (low !== undefined && high !== undefined) return `${low} to ${high}`;
  if (high !== undefined) return `at most ${high}`;
  return `at least ${low ?? "any"}`;
}

const nearest = (x: number, decimals: number): number => roundTo(x, { decimals });

/** Inward; but a limit on which a reading lies is printed as the reading is. */
function printedLimits(
  { low, high }: Band,
  readings: readonly number[],
  decimals: number,
): { low?: number; high?: number } {
  const inward = (limit: number, mode: "floor" | "ceiling") =>
    readings.includes(limit) ? nearest(limit, decimals) : roundTo(limit, { decimals, mode });
  return {
    ...(low !== undefined && { low: inward(low, "ceiling") }),
    ...(high !== undefined && { high: inward(high, "floor") }),
  };
}

function decimalsFor(band: Band, readings: readonly number[], unit: Unit): number {
  let decimals = DECIMALS[unit];
  while (decimals < MOST_DECIMALS && !agrees(band, readings, decimals)) decimals++;
  return decimals;
}

function agrees(band: Band, readings: readonly number[], decimals: number): boolean {
  const { low, high } = printedLimits(band, readings, decimals);
  const sides = (x: number, { low = x, high = x }: { low?: number; high?: number }) => `${x < low} ${x > high}`;
  const inOrder = low === undefined || high === undefined || low < high;
  return (
    inOrder &&
    readings.every(
      (reading) =>
        sides(reading, band) ===
        sides(nearest(reading, decimals), { ...(low !== undefined && { low }), ...(high !== undefined && { high }) }),
    )
  );
}

/** A difference in 3 digits, with its unit. */
export const difference = (x: number, unit: string): string => written(plain(x, 3), unit);

/** A duration as it is spoken of: in seconds below a minute, else in minutes and whole seconds. */
export function minutes(seconds: number): string {
  if (seconds < 60) return `${plain(seconds, 3)} s`;
  const whole = Math.ceil(seconds);
  return `${Math.floor(whole / 60)} min ${whole % 60} s`;
}

/** A moment as people write it: `2026-11-18 10:20`. */
export const moment = (typed: string): string => typed.replace(/(?<=\d)T(?=\d)/, " ");
