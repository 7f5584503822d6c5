/** The time from the crossing of a threshold, by ramps and by steps. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import {
  type ChannelState,
  linearRamp,
  type Piece,
  ramp,
  type Segment,
  staircase,
  stepsWithRest,
  type Threshold,
  type Timeline,
  walk,
} from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { hundredths } from "./phases.js";
import { event, seconds, wiring } from "./walks.js";

const D = Decimal.clone({ defaults: true, precision: 40 });

const held = (duration: number, state?: ChannelState): Segment => ({
  name: "state",
  duration,
  channels: state === undefined ? {} : { i: state },
});
const sequence = (...segments: Segment[]): Timeline => ({ wiring, segments });
const at = (quantity: Threshold["quantity"], level: number, direction?: "rising" | "falling"): Threshold => ({
  channel: "i",
  quantity,
  level,
  ...(direction && { direction }),
});
/** When the clock started, told by an operation that came later. */
const crossed = (timeline: Timeline, threshold: Threshold, operated: number): number | undefined => {
  const { operateTime } = walk(timeline, [event("trip", operated)], { threshold });
  return operateTime === undefined ? undefined : new D(operated).minus(operateTime).toDecimalPlaces(12).toNumber();
};
const frequencyFrom = (frequency: number, rate: number, duration: number): Segment =>
  held(duration, { rms: 63.5, frequency, slope: { frequency: rate } });

describe("a ramp", () => {
  test("starts the time when it crosses the threshold, exactly", () => {
    const rates = hundredths(-3, 3).filter((rate) => rate !== 0);
    holds(
      fc.property(hundredths(48, 62), rates, fc.integer({ min: 1, max: 999 }), fc.nat(500), (from, rate, n, later) => {
        const level = new D(rate).times(n).div(100).plus(from).toNumber();
        const timeline = sequence(held(0.5, { rms: 63.5, frequency: from }), frequencyFrom(from, rate, 10.5));
        const operated = new D(n).div(100).plus("0.501").plus(new D(later).div(1000)).toNumber();
        fc.pre(operated <= 11);
        const { operateTime } = walk(timeline, [event("trip", operated)], { threshold: at("frequency", level) });
        expect(operateTime).toBe(new D(later + 1).div(1000).toNumber());
      }),
    );
  });

  // Kinematics, exact by formula: (threshold − start)/rate; rows freq.ramp.* of the published table "crossing-time".
  test.each([
    [50, 49, -1, 1],
    [50, 48.8, -0.5, 2.4],
    [60, 59.3, -2.5, 0.28],
    [60, 57, -0.75, 4],
  ])(
    "from %d Hz to %d Hz at %d Hz/s takes %d s, and a tenth of a second later is a tenth",
    (from, level, rate, time) => {
      const timeline = sequence(frequencyFrom(from, rate, 2 * time));
      const operated = new D(time).plus("0.1").toNumber();
      expect(walk(timeline, [event("trip", operated)], { threshold: at("frequency", level) })).toMatchObject({
        operateTime: 0.1,
        elapsed: operated,
      });
    },
  );

  test("of a third of an ampere a second reaches 4 A from 3 A after 3 s", () => {
    const lifted = held(6, { rms: 3, frequency: 60, slope: { rms: 1 / 3 } });
    const cycles = walk(sequence(lifted), [event("trip", 3 + 11 / 60)], { threshold: at("rms", 4) });
    expect(cycles.operateTime).toBe(11 / 60);
  });

  test("that was not there yet when the contact closed has no operate time, and says what operated", () => {
    const walked = walk(sequence(frequencyFrom(50, -1, 2)), [event("trip", 0.9)], { threshold: at("frequency", 49) });
    expect(walked).not.toHaveProperty("operateTime");
    expect(walked).toMatchObject({ operatedOn: event("trip", 0.9), elapsed: 0.9, operations: [{ index: 0 }] });
    expect(crossed(sequence(frequencyFrom(50, -1, 2)), at("frequency", 49), 1)).toBeUndefined();
    expect(crossed(sequence(frequencyFrom(50, -1, 2)), at("frequency", 49), 1.001)).toBe(1);
  });

  test("that a contact ended went no further", () => {
    const down = { ...frequencyFrom(50, -1, 4), endsOn: { contact: "trip", to: "closed" } } as const;
    const timeline = sequence(down, held(1, { rms: 63.5, frequency: 50 }));
    const events = [event("trip", 1.25), event("trip", 1.5, "open"), event("trip", 1.75)];
    const operation = { contact: "trip", to: "open" } as const;
    const threshold = at("frequency", 49);
    expect(walk(timeline, events, { threshold }).operateTime).toBe(0.25);
    // From 48.75 Hz the source steps back to 50 Hz at 1.25 s, and crosses the threshold once more.
    expect(walk(timeline, events, { threshold, operation }).operateTime).toBe(0.25);
    expect(walk(timeline, events, { threshold: { ...threshold, direction: "falling" }, operation }).operateTime).toBe(
      0.5,
    );
  });
});

describe("steps and turns", () => {
  const base = { i: { rms: 0, frequency: 50 } };
  const along = (pieces: readonly Piece[]) => ramp({ base, lever: { i: { rms: 1 } }, pieces, wiring });

  test("a staircase crosses when it steps beyond the level, not when it stands on it", () => {
    holds(
      fc.property(
        fc.integer({ min: 1, max: 50 }),
        fc.integer({ min: 1, max: 900 }),
        fc.integer({ min: 1, max: 19 }),
        (hundredth, dwell, k) => {
          const step = hundredth / 100;
          const pieces = staircase({ from: step, to: (21 * hundredth) / 100, step, dwell: seconds(dwell) });
          const end = seconds(21 * dwell);
          // Level n is (n + 1) · step: between two levels, and on a level.
          const between = new D(step).times(k).plus(new D(step).div(2)).toNumber();
          expect(crossed(along(pieces), at("rms", between), end)).toBe(seconds(k * dwell));
          expect(crossed(along(pieces), at("rms", (k * hundredth) / 100), end)).toBe(seconds(k * dwell));
        },
      ),
    );
  });

  test("a step of more than a turn is one step of a current or a frequency, and a level lies 360 further for an angle alone", () => {
    const step = sequence(held(1, { rms: 1, frequency: 50 }), held(1, { rms: 400, frequency: 450 }));
    expect(crossed(step, at("rms", 300), 1.5)).toBe(1);
    expect(crossed(step, at("frequency", 300), 1.5)).toBe(1);
    const up = sequence(held(4, { rms: 0, frequency: 50, slope: { rms: 100, frequency: 100 } }));
    expect(crossed(up, at("rms", 10), 4)).toBe(0.1);
    expect(crossed(up, at("frequency", 60), 4)).toBe(0.1);
  });

  test("pulses with rest between cross upward and downward, and the last before the operation counts", () => {
    const pieces = stepsWithRest({ rest: 0, restTime: 1, from: 1, to: 4, step: 1, hold: 0.5 });
    const timeline = along(pieces);
    // Pulses begin at 1, 2.5, 4 and 5.5 s.
    expect(crossed(timeline, at("rms", 2.5), 4.25)).toBe(4);
    expect(crossed(timeline, at("rms", 2.5), 5)).toBe(4.5);
    expect(crossed(timeline, at("rms", 2.5, "rising"), 5)).toBe(4);
    expect(crossed(timeline, at("rms", 2.5, "rising"), 3)).toBeUndefined();
  });

  test("a ramp there and back crosses twice; one that only touches the level does not", () => {
    const there = [...linearRamp({ from: 1, to: 5, rate: 2 }), ...linearRamp({ from: 5, to: 1, rate: 2 })];
    const timeline = along(there);
    expect(crossed(timeline, at("rms", 4), 2.25)).toBe(1.5);
    expect(crossed(timeline, at("rms", 4), 3)).toBe(2.5);
    expect(crossed(timeline, at("rms", 4, "rising"), 3)).toBe(1.5);
    // From off it steps to 1 A at the start.
    expect(crossed(timeline, at("rms", 5), 3)).toBeUndefined();
    expect(crossed(timeline, at("rms", 1), 3)).toBe(0);
  });

  test("ramps in a row cross a level on which one ends and the next begins, once, however slopes are rounded", () => {
    const levels = hundredths(1, 9);
    holds(
      fc.property(levels, levels, hundredths(1, 2), fc.boolean(), (middle, more, rate, down) => {
        const ends = [new D(20), new D(20).plus(middle), new D(20).plus(middle).plus(more)].map((x) => x.toNumber());
        const [a, b, c] = (down ? ends.reverse() : ends) as [number, number, number];
        const pieces = [...linearRamp({ from: a, to: b, rate }), ...linearRamp({ from: b, to: c, rate })];
        const [first, second] = pieces.map(({ duration }) => duration) as [number, number];
        const start = crossed(along(pieces), at("rms", b, down ? "falling" : "rising"), first + second / 2);
        expect(Math.abs(start! - first)).toBeLessThanOrEqual(1e-11);
      }),
    );
  });

  test("a quantity that rests on the level and goes on crosses when it goes on", () => {
    const rest = held(1, { rms: 63.5, frequency: 49 });
    const timeline = sequence(frequencyFrom(50, -1, 1), rest, frequencyFrom(49, -1, 1));
    expect(crossed(timeline, at("frequency", 49), 2.5)).toBe(2);
    const back = sequence(frequencyFrom(50, -1, 1), rest, frequencyFrom(49, 1, 1));
    expect(crossed(back, at("frequency", 49), 2.5)).toBeUndefined();
    expect(crossed(sequence(rest, frequencyFrom(49, -1, 1)), at("frequency", 49), 1.5)).toBe(1);
  });

  test("a channel that is off has rms 0, and no frequency", () => {
    const on = (frequency: number) => held(1, { rms: 5, frequency });
    const timeline = sequence(on(50), held(1), on(48), held(1), held(1));
    expect(crossed(timeline, at("rms", 1), 2.5)).toBe(2);
    expect(crossed(timeline, at("rms", 1), 3.5)).toBe(3);
    expect(crossed(timeline, at("frequency", 49), 2.5)).toBe(2);
    expect(crossed(timeline, at("frequency", 49), 4.5)).toBe(2);
    expect(crossed(timeline, at("frequency", 49), 1.5)).toBeUndefined();
    expect(crossed(sequence(held(1), on(48)), at("frequency", 49), 1.5)).toBeUndefined();
  });

  test("what crossed before the clock started does not count", () => {
    const up = held(1, { rms: 1, frequency: 50, slope: { rms: 2 } });
    const timeline = sequence(up, { ...held(1, { rms: 3, frequency: 50 }), clock: "starts" });
    expect(crossed(timeline, at("rms", 2), 1.5)).toBeUndefined();
    const step = sequence(held(1, { rms: 1, frequency: 50 }), {
      ...held(1, { rms: 3, frequency: 50 }),
      clock: "starts",
    });
    expect(crossed(step, at("rms", 2), 1.5)).toBe(1);
  });
});

describe("the last crossing", () => {
  const piece = fc.record({
    from: fc.integer({ min: 40, max: 46 }),
    slope: fc.constantFrom(-1, 0, 1),
    lasts: fc.integer({ min: 1, max: 5 }),
  });
  const path = fc.array(fc.option(piece, { nil: undefined, freq: 6 }), { minLength: 1, maxLength: 6 });

  test("is the one that a walk along every half millisecond finds", () => {
    const quantities = fc.constantFrom("rms" as const, "frequency" as const);
    const directions = fc.constantFrom(undefined, "rising" as const, "falling" as const);
    const levels = fc.oneof(fc.integer({ min: 38, max: 48 }), fc.constantFrom(42.5, 43.5));
    holds(
      fc.property(
        path,
        quantities,
        levels,
        directions,
        fc.nat(5),
        fc.nat(30),
        (pieces, quantity, level, direction, clock, n) => {
          const segments = pieces.map((one, i) => {
            const lasts = seconds(one?.lasts ?? 2);
            const { from = 0, slope = 0 } = one ?? {};
            const state = { rms: 1, frequency: 50, [quantity]: from, slope: { [quantity]: 1000 * slope } };
            return { ...held(lasts, one && state), ...(i === clock && { clock: "starts" as const }) };
          });
          const starts = pieces.map((_, i) => pieces.slice(0, i).reduce((sum, one) => sum + (one?.lasts ?? 2), 0));
          const samples: [time: number, value: number][] = quantity === "rms" ? [[0, 0]] : [];
          for (const [i, one] of pieces.entries()) {
            if (one === undefined && quantity === "frequency") continue;
            const { from, slope, lasts } = one ?? { from: 0, slope: 0, lasts: 2 };
            for (let half = 0; half <= 2 * lasts; half++)
              samples.push([starts[i]! + half / 2, from + (slope * half) / 2]);
          }
          const operated = n + 1;
          const { operations } = walk(sequence(...segments), [event("trip", seconds(operated))], {
            threshold: at(quantity, level, direction),
          });
          fc.pre(operations.length === 1);

          let [side, expected]: [number | undefined, number | undefined] = [undefined, undefined];
          for (const [j, [time, value]] of samples.entries()) {
            const now = Math.sign(value - level);
            if (now !== 0 && side !== undefined && now !== side) {
              const [before, was] = samples[j - 1]!;
              // After a gap it is beyond the level when it is seen again.
              const instant = was === level && time - before <= 0.5 ? before : time;
              const fits = direction === undefined || (direction === "rising") === now > 0;
              if (fits && instant < operated && instant >= (starts[clock] ?? 0)) expected = instant;
            }
            if (now !== 0 || side === undefined) side = now;
          }
          const { operateTime } = operations[0]!;
          expect(
            operateTime === undefined ? undefined : new D(operateTime).times(-1000).plus(operated).toNumber(),
          ).toBe(expected);
        },
      ),
      1500,
    );
  });
});

describe("an angle", () => {
  const turning = (angle: number, rate: number, duration: number) =>
    held(duration, { rms: 1, frequency: 50, angle, slope: { angle: rate } });

  test("meets its level again with every turn, and the last time before the operation counts", () => {
    const rates = fc.integer({ min: 10, max: 2000 });
    holds(
      fc.property(
        fc.integer({ min: -360, max: 360 }),
        rates,
        fc.boolean(),
        fc.integer({ min: -360, max: 360 }),
        fc.integer({ min: 1, max: 4999 }),
        (from, rate, down, level, ms) => {
          const sense = down ? -1 : 1;
          const turned = new D(rate).times(ms).div(1000);
          // Degrees that are still to be turned to the level for the first time, then a turn each.
          const first = ((((level - from) * sense) % 360) + 360) % 360;
          const last = turned.gt(first)
            ? turned.minus(first).div(360).ceil().minus(1).times(360).plus(first)
            : undefined;
          const { operateTime } = walk(sequence(turning(from, sense * rate, 5)), [event("trip", seconds(ms))], {
            threshold: at("angle", level),
          });
          if (last === undefined) expect(operateTime).toBeUndefined();
          else expect(operateTime).toBe(new D(ms).div(1000).minus(last.div(rate)).toNumber());
        },
      ),
      500,
    );
  });

  test("that comes to rest on its level after a turn crossed it a turn before", () => {
    // 30° after 0.1 s and, with a turn more, at the end; downward the same.
    for (const sense of [1, -1]) {
      const timeline = sequence(turning(0, sense * 300, 1.3), turning(sense * 30, 0, 1));
      expect(crossed(timeline, at("angle", sense * 30), 1.8)).toBe(0.1);
    }
  });

  test("crosses −175° on its way from 170° to 190°, and steps the short way round", () => {
    expect(crossed(sequence(turning(170, 10, 2)), at("angle", -175), 2)).toBe(1.5);
    const step = (from: number, to: number) => sequence(turning(from, 0, 1), turning(to, 0, 1));
    expect(crossed(step(170, -170), at("angle", 180), 1.5)).toBe(1);
    expect(crossed(step(170, -170), at("angle", 180, "falling"), 1.5)).toBeUndefined();
    expect(crossed(step(170, -170), at("angle", 0), 1.5)).toBeUndefined();
    expect(crossed(step(-170, 170), at("angle", 180, "falling"), 1.5)).toBe(1);
    expect(crossed(step(10, 730), at("angle", 15), 1.5)).toBeUndefined();
  });
});
