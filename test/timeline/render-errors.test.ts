/** What cannot be rendered is refused by name, and no number that is none comes out of what can. */
import fc from "fast-check";
import { type ChannelState, render, renderChunks, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds, runsOf } from "../support/holds.js";

const wiring = { v: { quantity: "voltage", feeds: { va: 1 } } } as const;
const lasting = (duration: number, v: ChannelState): Timeline => ({
  wiring,
  segments: [{ name: "a", duration, channels: { v } }],
});
const hour = lasting(3600, { rms: 1, frequency: 50, harmonics: [{ order: 5, rms: 1 }] });

describe("what cannot be rendered is refused by name", () => {
  test.each([
    ["no timeline", undefined, { channel: "v", sampleRate: 1000 }, undefined, ""],
    ["null for a timeline", null, { channel: "v", sampleRate: 1000 }, undefined, ""],
    ["a timeline without states", { wiring, segments: [] }, { channel: "v", sampleRate: 1000 }, undefined, "segments"],
    ["no options", hour, undefined, undefined, ""],
    ["null for options", hour, null, undefined, ""],
    ["a number for options", hour, 1000, undefined, ""],
    ["an unknown channel", hour, { channel: "x", sampleRate: 1000 }, undefined, "channel"],
    ["no channel", hour, { sampleRate: 1000 }, undefined, "channel"],
    ["a channel of every object", hour, { channel: "constructor", sampleRate: 1000 }, undefined, "channel"],
    ["no sample rate", hour, { channel: "v" }, undefined, "sampleRate"],
    ["a rate that is no number", hour, { channel: "v", sampleRate: Number.NaN }, undefined, "sampleRate"],
    ["a rate without end", hour, { channel: "v", sampleRate: Number.POSITIVE_INFINITY }, undefined, "sampleRate"],
    ["a rate as text", hour, { channel: "v", sampleRate: "1000" }, undefined, "sampleRate"],
    ["an hour at 10 MHz", hour, { channel: "v", sampleRate: 1e7 }, undefined, "sampleRate"],
    ["an unknown option", hour, { channel: "v", sampleRate: 1000, rate: 1 }, undefined, "rate"],
    ["a chunk for a whole record", hour, { channel: "v", sampleRate: 1000, chunk: 1 }, undefined, "chunk"],
    ["an out of another length", hour, { channel: "v", sampleRate: 1000 }, new Float64Array(7), "out"],
    ["a list for out", lasting(0.001, { rms: 1, frequency: 50 }), { channel: "v", sampleRate: 1000 }, [0], "out"],
  ])("%s", (_what, timeline, given, out, path) => {
    expect(problemsOf(() => render(timeline as never, given as never, out as never))).toMatchObject([{ path }]);
  });

  // C. E. Shannon, Communication in the presence of noise (1949), theorem 1: a rate above twice the highest frequency.
  test.each<[string, number, ChannelState]>([
    ["the fundamental", 100, { rms: 1, frequency: 50 }],
    ["the fifth harmonic", 500, { rms: 1, frequency: 50, harmonics: [{ order: 5, rms: 1 }] }],
    ["the end of a rising frequency", 104, { rms: 1, frequency: 50, slope: { frequency: 1 } }],
    ["the start of a falling one", 100, { rms: 1, frequency: 50, slope: { frequency: -1 } }],
    [
      "a harmonic of a rising one",
      312,
      { rms: 1, frequency: 50, slope: { frequency: 1 }, harmonics: [{ order: 3, rms: 1 }] },
    ],
    ["an angle that runs ahead by a turn a second", 102, { rms: 1, frequency: 50, slope: { angle: 360 } }],
    ["an angle that runs back by 120 turns a second", 140, { rms: 1, frequency: 50, slope: { angle: -43_200 } }],
  ])("a sample rate of no more than twice %s, and one above it is taken", (_what, sampleRate, state) => {
    const timeline = lasting(2, state);
    const at = (rate: number) => () => render(timeline, { channel: "v", sampleRate: rate });
    expect(problemsOf(at(sampleRate))).toMatchObject([{ code: "out-of-range", path: "sampleRate" }]);
    expect(at(sampleRate)).toThrow(`above ${sampleRate} Hz`);
    expect(at(sampleRate + 0.01)()).toHaveLength(2 * sampleRate + 1);
  });

  test("an angle that moves turns no harmonic: the rate follows the larger of the two", () => {
    const state = { rms: 1, frequency: 50, slope: { angle: 7200 }, harmonics: [{ order: 3, rms: 1 }] };
    const at = (rate: number) => () => render(lasting(1, state), { channel: "v", sampleRate: rate });
    expect(at(300)).toThrow("above 300 Hz");
    expect(at(301)()).toHaveLength(301);
  });

  test("the count is said, and chunks are the way", () => {
    expect(() => render(hour, { channel: "v", sampleRate: 1e7 })).toThrow("36000000000 samples");
    expect(renderChunks(hour, { channel: "v", sampleRate: 1e7, chunk: 100 }).next().value).toHaveLength(100);
    expect(() => renderChunks(hour, { channel: "v", sampleRate: 1e15 })).toThrow("3600000000000000000 samples");
  });

  test.each([
    ["a chunk of nothing", { chunk: 0 }, "chunk"],
    ["half a sample", { chunk: 1.5 }, "chunk"],
    ["a chunk beyond memory", { chunk: 2 ** 27 + 1 }, "chunk"],
    ["a chunk as text", { chunk: "9" }, "chunk"],
    ["an unknown channel", { channel: "x" }, "channel"],
    ["a low rate", { sampleRate: 500 }, "sampleRate"],
  ])("%s, at once and not with the first chunk", (_what, change, path) => {
    const given = { channel: "v", sampleRate: 1000, ...change };
    expect(problemsOf(() => renderChunks(hour, given as never))).toMatchObject([{ path }]);
  });

  test("chunks are counted up to the last whole number that a double tells from the next, 2^53 − 1", () => {
    const seconds = (duration: number) => lasting(duration, { rms: 0, frequency: 0 });
    const clock = { channel: "v", sampleRate: 1 };
    expect(renderChunks(seconds(2 ** 53 - 1), clock).next().value).toHaveLength(131_072);
    expect(problemsOf(() => renderChunks(seconds(2 ** 53), clock))).toMatchObject([{ code: "too-many" }]);
  });

  test("parts whose sum is 4e307, not below it; but none of a state without a sample", () => {
    const clock = { channel: "v", sampleRate: 1000 };
    const offset = (size: number) => lasting(0.01, { rms: 0, frequency: 0, offset: size });
    const path = "segments[0].channels.v";
    expect(problemsOf(() => render(offset(4e307), clock))).toMatchObject([{ code: "out-of-range", path }]);
    expect(render(offset(3.999e307), clock)).toHaveLength(10);
    const [short] = lasting(0.0003, { rms: 0, frequency: 0, offset: 1e308 }).segments as [Timeline["segments"][0]];
    const [first] = lasting(0.0011, { rms: 0, frequency: 0 }).segments as [Timeline["segments"][0]];
    expect(Array.from(render({ wiring, segments: [first, short] }, clock))).toEqual([0, 0]);
  });

  test("a size that overflows, with its state", () => {
    const given = { channel: "v", sampleRate: 1000 };
    expect(problemsOf(() => render(lasting(1, { rms: 1e308, frequency: 50 }), given))).toMatchObject([
      { code: "out-of-range", path: "segments[0].channels.v" },
    ]);
    const growing = lasting(1, { rms: 1, frequency: 50, slope: { rms: 1e308 } });
    expect(problemsOf(() => render(growing, given))).toMatchObject([{ path: "segments[0].channels.v" }]);
  });
});

describe("what can be rendered", () => {
  const anything = fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.constantFrom(0, -0, 5e-324, 1e-300, 1e300, 1e-9, 1, 50),
  );
  const positive = anything.map(Math.abs);
  const state = fc.record(
    {
      rms: positive,
      frequency: positive,
      angle: anything,
      offset: anything,
      decay: fc.record({ initial: anything, tau: positive }),
      harmonics: fc.constantFrom([], [{ order: 2, rms: 1e-300 }]),
      slope: fc.record({ rms: anything, frequency: anything, angle: anything }, { requiredKeys: [] }),
    },
    { requiredKeys: ["rms", "frequency"] },
  );

  test("a slope whose peak would not fit a double is rendered where its samples do", () => {
    const steep = lasting(1e-300, { rms: 0, frequency: 0, slope: { rms: 1.3e308 } });
    const [first, second] = render(steep, { channel: "v", sampleRate: 2e300 });
    expect(first).toBe(0);
    expect(second).toBeCloseTo(Math.SQRT2 * 6.5e7, 5);
  });

  test("never gives anything but finite numbers, and no zero with a sign", () => {
    let rendered = 0;
    holds(
      fc.property(state, positive, positive, (v, duration, sampleRate) => {
        const timeline = lasting(duration, v as ChannelState);
        const given = { channel: "v", sampleRate, chunk: 300 };
        let first: Float64Array | undefined;
        const refused = (() => {
          try {
            first = renderChunks(timeline, given).next().value as Float64Array;
            return false;
          } catch {
            expect(problemsOf(() => renderChunks(timeline, given))).toHaveLength(1);
            return true;
          }
        })();
        if (refused) return;
        rendered++;
        expect(first!.every((x) => Number.isFinite(x) && !Object.is(x, -0))).toBe(true);
      }),
      1000,
    );
    expect(rendered).toBeGreaterThan(runsOf(10));
  });

  test("is zero where the channel is off, or on at nothing", () => {
    const segments = [
      { name: "off", duration: 0.1, channels: {} },
      { name: "nothing", duration: 0.1, channels: { v: { rms: 0, frequency: 50, offset: -0 } } },
      {
        name: "decayed",
        duration: 0.1,
        channels: { v: { rms: 0, frequency: 50, decay: { initial: -1, tau: 1e-300 } } },
      },
    ];
    const samples = render({ wiring, segments }, { channel: "v", sampleRate: 1000 });
    expect(samples).toHaveLength(300);
    expect(samples[200]).toBe(-1);
    expect(samples.every((x, n) => Object.is(x, 0) || n === 200)).toBe(true);
  });

  test("may have a state of one sample in which everything moves without bounds", () => {
    const v = { rms: 1, frequency: 0, slope: { rms: 1e300, frequency: 1e300 } };
    expect([...render(lasting(1e-300, v), { channel: "v", sampleRate: 1e4 })]).toEqual([Math.SQRT2]);
  });
});
