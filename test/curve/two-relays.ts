/** What the tests of two relays in series share: relays by hand and at random, and margins on a dense grid. */
import fc from "fast-check";
import { type CurveSetting, operateTime, operateTimes, type SeriesRelay, type TableCurve } from "tripwright/curve";
import { between, overCurves } from "../support/curves.js";

/** 13.5 · multiplier/(I/pickup − 1). */
export const very = (pickup: number, multiplier: number, other: Partial<CurveSetting> = {}): SeriesRelay => ({
  setting: { curve: "iec-very-inverse", multiplier, ...other },
  pickup,
});
export const definite = (pickup: number, time: number): SeriesRelay => ({
  setting: { curve: { form: "definite", time } },
  pickup,
});

/** Drawn curves with a corner every few percent, from 0.01 to a million times the setting. */
const tables: fc.Arbitrary<TableCurve> = fc
  .array(fc.tuple(between(1.02, 1.3), between(0.6, 0.999)), { minLength: 5, maxLength: 20 })
  .map((steps) => {
    let [multiple, time] = [0.9, 100];
    const corners = steps.map(([by, to]) => {
      [multiple, time] = [multiple * by, time * to];
      return { multiple, time };
    });
    const end = { multiple: 1e6, time: time / 10 };
    return { form: "table", points: [{ multiple: 0.01, time: 1000 }, ...corners, end] };
  });

const settings: fc.Arbitrary<CurveSetting> = fc
  .record({
    curve: fc.oneof({ weight: 3, arbitrary: overCurves }, { weight: 1, arbitrary: tables }),
    multiplier: between(0.05, 2),
    startRatio: fc.constantFrom(1, 1.05, 1.2),
    minimumTime: fc.constantFrom(0, 0.1, 1),
    addedTime: fc.constantFrom(0, 0.2, 5),
    ceiling: fc.constantFrom(2, 10, 20, 1e6),
  })
  .map(({ ceiling, ...setting }) => ({ ...setting, ceilingMultiple: ceiling }));
const relays: fc.Arbitrary<SeriesRelay> = fc.record({ setting: settings, pickup: between(100, 800) });

/** An upstream and a downstream relay with all that a setting may add. */
export const pairs = fc.record({ upstream: relays, downstream: relays });
export const currentLists = fc.array(between(50, 20000), { minLength: 1, maxLength: 8 });
export const ranges = fc.tuple(between(50, 5000), between(1, 50)).map(([from, ratio]) => ({ from, to: from * ratio }));

export const timeOf = ({ setting, pickup }: SeriesRelay, current: number): number =>
  operateTime(setting, current / pickup);

interface Pair {
  readonly upstream: SeriesRelay;
  readonly downstream: SeriesRelay;
}

/** The smallest margin on a dense grid, where both operate; `Infinity` where they never do. */
export function densely({ upstream, downstream }: Pair, { from, to }: { from: number; to: number }): number {
  const count = 5000;
  const currents = Array.from({ length: count + 1 }, (_, i) => Math.min(to, from * (to / from) ** (i / count)));
  const times = ({ setting, pickup }: SeriesRelay) =>
    operateTimes(
      setting,
      currents.map((current) => current / pickup),
    );
  const [up, down] = [times(upstream), times(downstream)];
  return Math.min(...up.map((time, i) => time - (down[i] as number)).filter(Number.isFinite));
}
