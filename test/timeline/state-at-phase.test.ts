import fc from "fast-check";
import { type ChannelState, type Timeline, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import {
  apart,
  hundredths,
  integrated,
  milliseconds,
  PROMISED,
  phaseAt,
  timelineAndInstant,
  timelines,
  wiring,
} from "./phases.js";

const still = (frequency: number, angle = 0): ChannelState => ({ rms: 1, frequency, angle });
const sequence = (...states: [duration: number, state?: ChannelState][]): Timeline => ({
  wiring,
  segments: states.map(([duration, state]) => ({ name: "state", duration, channels: state ? { i: state } : {} })),
});

describe("the phase of a channel", () => {
  test("is 360 · ∫ f dt + angle over constant and moving frequency, on or off, in (−180°, 180°]", () => {
    holds(
      fc.property(timelineAndInstant, fc.constantFrom("i", "v"), ([timeline, t], channel) => {
        const phase = phaseAt(timeline, t, channel);
        expect(apart(phase, integrated(timeline, t, channel))).toBeLessThanOrEqual(PROMISED);
        expect(phase > -180 && phase <= 180).toBe(true);
      }),
      400,
    );
  });

  test("is as right after a million cycles of one state", () => {
    holds(
      fc.property(hundredths(45, 65), milliseconds(10_000_000, 15_000_000), hundredths(-180, 180), (f, t, angle) => {
        const timeline = sequence([15_000, still(f, angle)]);
        expect(apart(phaseAt(timeline, t), integrated(timeline, t))).toBeLessThanOrEqual(PROMISED);
      }),
    );
  });

  test("is as right after a million cycles in a thousand states", () => {
    holds(
      fc.property(hundredths(45, 50), milliseconds(15_000, 20_000), (f, duration) => {
        const timeline = sequence(
          ...Array.from({ length: 1000 }, () => [duration, still(f)] as [number, ChannelState]),
        );
        const t = totalTime(timeline);
        expect(apart(phaseAt(timeline, t), integrated(timeline, t))).toBeLessThanOrEqual(PROMISED);
      }),
      3,
    );
  });

  test("does not jump where the frequency changes: a microsecond before, it lacks 360 · f · 1 µs", () => {
    holds(
      fc.property(
        hundredths(40, 70),
        hundredths(40, 70),
        milliseconds(1, 20_000),
        hundredths(-90, 90),
        (f, g, t, a) => {
          const timeline = sequence([t, still(f, a)], [1, still(g, a)]);
          const before = phaseAt(timeline, Number((t - 1e-6).toFixed(6)));
          expect(apart(phaseAt(timeline, t), before + 360 * f * 1e-6)).toBeLessThanOrEqual(2 * PROMISED);
        },
      ),
    );
  });

  test("jumps by exactly what a given angle changes", () => {
    holds(
      fc.property(
        hundredths(40, 70),
        milliseconds(1, 20_000),
        hundredths(-90, 90),
        hundredths(-90, 90),
        (f, t, a, b) => {
          const [as, to] = [a, b].map((angle) => phaseAt(sequence([t, still(f, a)], [1, still(f, angle)]), t));
          expect(apart(to! - as!, b - a)).toBeLessThanOrEqual(2 * PROMISED);
        },
      ),
    );
  });

  test("runs on while the channel is off: before its first state, and in a gap at the frequency it had last", () => {
    // 0.105 s of 50 Hz is 5 1/4 cycles; 0.1 s of 52 Hz is 5.2 cycles.
    expect(phaseAt(sequence([0.105], [1, still(50)]), 0.105)).toBeCloseTo(90, 9);
    expect(phaseAt(sequence([0.105, still(50)], [0.105], [1, still(50)]), 0.21)).toBe(180);
    const sloped = { ...still(50), slope: { frequency: 2 } };
    // A second from 50 to 52 Hz is 51 cycles; then 5.2 cycles unseen, and 0.2 of a turn is 72°.
    expect(phaseAt(sequence([1, sloped], [0.1], [1, still(50)]), 1.1)).toBeCloseTo(72, 9);
    expect(phaseAt(sequence([1], [1, still(50)]), 0.005)).toBeCloseTo(90, 9);
  });

  test("a channel that is never on has phase 0", () => {
    expect(phaseAt(sequence([1, still(50)]), 0.123, "v")).toBe(0);
  });
});

describe("a sequence", () => {
  /** The part of a state from `since` on, as a state of its own. */
  const rest = (state: ChannelState, since: number): ChannelState => ({
    ...state,
    frequency: state.frequency + (state.slope?.frequency ?? 0) * since,
    angle: (state.angle ?? 0) + (state.slope?.angle ?? 0) * since,
  });

  test("split in two within any state is the same sequence", () => {
    holds(
      fc.property(timelineAndInstant, fc.nat(), fc.integer({ min: 1, max: 9 }), ([timeline, t], pick, tenths) => {
        const index = pick % timeline.segments.length;
        const segment = timeline.segments[index]!;
        const cut = Number(((segment.duration * tenths) / 10).toFixed(4));
        const later = Object.entries(segment.channels).map(([name, state]) => [name, rest(state, cut)]);
        const segments = timeline.segments.toSpliced(
          index,
          1,
          { ...segment, duration: cut },
          { ...segment, duration: Number((segment.duration - cut).toFixed(4)), channels: Object.fromEntries(later) },
        );
        expect(apart(phaseAt({ wiring, segments }, t), phaseAt(timeline, t))).toBeLessThanOrEqual(2 * PROMISED);
      }),
    );
  });

  test("begun later is ahead by the turns that were made before", () => {
    holds(
      fc.property(timelines, fc.integer({ min: 1, max: 20 }), hundredths(40, 70), (timeline, seconds, f) => {
        // A channel that is off at first would run at another frequency once something stands before it.
        fc.pre(timeline.segments[0]!.channels["i"] !== undefined);
        const before = { name: "before", duration: seconds, channels: { i: still(f) } };
        const later = { wiring, segments: [before, ...timeline.segments] };
        const t = timeline.segments[0]!.duration;
        const turns = (Math.round(f * 100) * seconds) / 100;
        const phase = phaseAt(later, Number((t + seconds).toFixed(3)));
        expect(apart(phase, phaseAt(timeline, t) + (turns % 1) * 360)).toBeLessThanOrEqual(2 * PROMISED);
      }),
    );
  });
});
