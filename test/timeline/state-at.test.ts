import fc from "fast-check";
import { type Segment, stateAt, type Timeline, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { textOf, typedDecimals, unitsAt } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const wiring = {
  i: { quantity: "current", feeds: { ia: 1 } },
  v: { quantity: "voltage", feeds: { va: 1 } },
} as const;
const held = (duration: number, rms = 1): Segment => ({
  name: `held at ${rms}`,
  duration,
  channels: { i: { rms, frequency: 50 } },
});
const sequence = (durations: readonly number[]): Timeline => ({
  wiring,
  segments: durations.map((d, i) => held(d, i)),
});

/** Durations in whole units of 10^−6 s, with the instants at which each state begins and the last one ends. */
const durations = fc
  .array(typedDecimals({ digits: 6, places: 6, min: 1 }), { minLength: 1, maxLength: 30 })
  .map((typed) => {
    let end = 0n;
    const ends = typed.map((one) => (end += unitsAt(6, one)));
    const instants = [0, ...ends.map((units) => Number(textOf(units, 6)))];
    return { seconds: typed.map(({ text }) => Number(text)), instants };
  });

describe("totalTime", () => {
  test("is the double nearest to the exact sum of the typed durations", () => {
    holds(
      fc.property(durations, ({ seconds, instants }) => {
        expect(totalTime(sequence(seconds))).toBe(instants.at(-1));
      }),
    );
  });

  test.each([
    [10, 1],
    [13, 1.3],
    [30, 3],
  ])("%i tenths of a second are %d s", (count, total) => {
    expect(totalTime(sequence(Array.from({ length: count }, () => 0.1)))).toBe(total);
  });

  test("whole cycles of 60 Hz add up to whole cycles", () => {
    holds(
      fc.property(fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 20 }), (cycles) => {
        const sum = cycles.reduce((total, n) => total + n);
        expect(totalTime(sequence(cycles.map((n) => n / 60)))).toBe(sum / 60);
      }),
    );
  });
});

describe("stateAt", () => {
  test("at a boundary the later state holds and has just begun; the end belongs to the last", () => {
    holds(
      fc.property(durations, ({ seconds, instants }) => {
        const timeline = sequence(seconds);
        for (const [i, t] of instants.slice(0, -1).entries()) {
          expect(stateAt(timeline, t)).toMatchObject({ index: i, since: 0, segment: `held at ${i}` });
        }
        const last = seconds.length - 1;
        expect(stateAt(timeline, instants.at(-1)!)).toMatchObject({ index: last, since: seconds[last] });
      }),
      50,
    );
  });

  test("between two boundaries the state has lasted since the earlier one", () => {
    holds(
      fc.property(durations, fc.nat(), ({ seconds, instants }, pick) => {
        const index = pick % seconds.length;
        // A tenth into the state, in decimals.
        const t = Number((instants[index]! + seconds[index]! / 10).toFixed(7));
        const state = stateAt(sequence(seconds), t);
        expect(state.index).toBe(index);
        expect(state.since).toBe(Number((seconds[index]! / 10).toFixed(7)));
      }),
    );
  });

  test("a state of whole cycles of 60 Hz begins where the cycles before it end", () => {
    const cycles = fc.integer({ min: 1, max: 60 });
    holds(
      fc.property(cycles, cycles, cycles, (a, b, c) => {
        const timeline = sequence([a / 60, b / 60, c / 60]);
        expect(stateAt(timeline, a / 60)).toMatchObject({ index: 1, since: 0 });
        expect(stateAt(timeline, (a + b) / 60)).toMatchObject({ index: 2, since: 0 });
      }),
    );
  });

  test("what moves has moved by slope · time, the rest stands still", () => {
    const moving = {
      rms: 10,
      frequency: 50,
      angle: 30,
      harmonics: [{ order: 3, rms: 1 }],
      slope: { rms: -2, frequency: 0.5, angle: 90 },
    };
    const timeline = { wiring, segments: [held(1), { name: "moving", duration: 4, channels: { i: moving } }] };
    const { slope: _, ...still } = moving;
    expect(stateAt(timeline, 1).channels["i"]).toMatchObject(still);
    expect(stateAt(timeline, 3).channels["i"]).toMatchObject({ ...still, rms: 6, frequency: 51, angle: 210 });
    expect(stateAt(timeline, 5).channels["i"]).toMatchObject({ ...still, rms: 2, frequency: 52, angle: 390 });
    expect(stateAt(timeline, 3).channels["i"]).not.toHaveProperty("slope");
  });

  test("every wired channel is there, and one that is off has no current or voltage", () => {
    const { channels } = stateAt({ wiring, segments: [held(1, 4)] }, 0.5);
    expect([channels["i"]!.rms, channels["v"]!.rms]).toEqual([4, 0]);
  });

  test.each([-1e-9, 2.000001, Number.NaN, Number.POSITIVE_INFINITY])("%s s is not within a sequence of 2 s", (t) => {
    expect(problemsOf(() => stateAt(sequence([1, 1]), t))).toMatchObject([{ path: "t" }]);
  });

  test("a timeline that is not valid is refused with its path", () => {
    expect(problemsOf(() => stateAt(sequence([1, -1]), 0))).toMatchObject([{ path: "segments[1].duration" }]);
  });
});
