import fc from "fast-check";
import { render, renderChunks, stateAt, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";

const wiring = { v: { quantity: "voltage", feeds: { va: 1 } }, w: { quantity: "voltage", feeds: { vb: 1 } } } as const;
const hundredths = (low: number, high: number) => fc.integer({ min: low, max: high }).map((n) => n / 100);

const state = fc.record(
  {
    rms: hundredths(0, 10_000),
    frequency: hundredths(1_000, 7_000),
    angle: hundredths(-18_000, 18_000),
    offset: hundredths(-500, 500),
    decay: fc.record({ initial: hundredths(-5_000, 5_000), tau: hundredths(1, 50) }),
    harmonics: fc.constantFrom(
      [],
      [{ order: 3, rms: 5, angle: 20 }],
      [
        { order: 2, rms: 3 },
        { order: 5, rms: 1, angle: -70 },
      ],
    ),
    slope: fc.record(
      { rms: hundredths(0, 1_000), frequency: hundredths(-300, 300), angle: hundredths(-9_000, 9_000) },
      { requiredKeys: [] },
    ),
  },
  { requiredKeys: ["rms", "frequency"] },
);
const timelines: fc.Arbitrary<Timeline> = fc
  .array(
    fc.record({
      duration: fc.integer({ min: 1, max: 700 }).map((n) => n / 1000),
      v: fc.option(state, { nil: undefined }),
    }),
    { minLength: 1, maxLength: 5 },
  )
  .map((parts) => ({
    wiring,
    segments: parts.map(({ duration, v }, i) => ({ name: `${i}`, duration, channels: v === undefined ? {} : { v } })),
  }));

/** The value of a channel from the state and its phases. */
function valueFrom(timeline: Timeline, t: number): number {
  const { phase, rms, offset = 0, decay, harmonics = [] } = stateAt(timeline, t).channels["v"]!;
  const cosine = (size: number, degrees: number) => Math.SQRT2 * size * Math.cos((degrees * Math.PI) / 180);
  const others = (harmonics as readonly { rms: number; phase: number }[]).reduce(
    (sum, one) => sum + cosine(one.rms, one.phase),
    0,
  );
  return cosine(rms, phase) + offset + (decay?.initial ?? 0) + others;
}

/** The sum of everything that a channel can reach. */
const reachOf = ({ segments }: Timeline) =>
  Math.max(
    1,
    ...segments.map(({ duration, channels: { v } }) =>
      v === undefined
        ? 0
        : Math.SQRT2 *
            (v.rms + (v.slope?.rms ?? 0) * duration + (v.harmonics ?? []).reduce((sum, one) => sum + one.rms, 0)) +
          Math.abs(v.offset ?? 0) +
          Math.abs(v.decay?.initial ?? 0),
    ),
  );

const rates = fc.constantFrom(2_400, 4_800, 10_000, 44_100, 1 / 1.23e-4);

describe("a record", () => {
  test("is what the state says at every sample: rms, angle, frequency moving or not, harmonics, decaying parts", () => {
    holds(
      fc.property(
        timelines,
        rates,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 5, maxLength: 5 }),
        (timeline, sampleRate, shares) => {
          const samples = render(timeline, { channel: "v", sampleRate });
          for (const share of shares) {
            const n = Math.min(samples.length - 1, Math.floor(share * samples.length));
            if (n < 0) continue;
            expect(Math.abs(samples[n]! - valueFrom(timeline, n / sampleRate))).toBeLessThanOrEqual(
              1e-12 * reachOf(timeline),
            );
          }
        },
      ),
    );
  });

  test("comes in chunks too, the same to the bit", () => {
    holds(
      fc.property(timelines, fc.integer({ min: 1, max: 5000 }), (timeline, chunk) => {
        const whole = render(timeline, { channel: "v", sampleRate: 4800 });
        const chunks = [...renderChunks(timeline, { channel: "v", sampleRate: 4800, chunk })];
        expect(chunks.slice(0, -1).every(({ length }) => length === chunk)).toBe(true);
        expect(chunks.at(-1)!.length).toBeLessThanOrEqual(chunk);
        expect(chunks.flatMap((part) => [...part])).toEqual([...whole]);
      }),
      60,
    );
  });

  test.each([1, 131_071, 131_072, 200_000, 600_000])("also a long one, in chunks of %d or less", (chunk) => {
    const v = {
      rms: 60,
      frequency: 48.7,
      decay: { initial: -40, tau: 0.5 },
      harmonics: [{ order: 3, rms: 4 }],
      slope: { frequency: 0.3 },
    };
    const timeline: Timeline = {
      wiring,
      segments: [
        { name: "a", duration: 0.777, channels: { v } },
        { name: "b", duration: chunk === 1 ? 0.01 : 2.9, channels: { v: { ...v, rms: 20 } } },
      ],
    };
    const clock = { channel: "v", sampleRate: 123_456 };
    const whole = render(timeline, clock);
    let first = 0;
    for (const part of renderChunks(timeline, { ...clock, chunk })) {
      if (!part.every((x, n) => x === whole[first + n])) throw new Error(`chunk at ${first} differs`);
      first += part.length;
    }
    expect(first).toBe(whole.length);
  });

  test("of whole chunks has no empty one behind them", () => {
    const timeline: Timeline = {
      wiring,
      segments: [{ name: "a", duration: 1, channels: { v: { rms: 1, frequency: 50 } } }],
    };
    for (const [chunk, expected] of [
      [500, [500, 500]],
      [1000, [1000]],
      [400, [400, 400, 200]],
    ] as const) {
      const chunks = [...renderChunks(timeline, { channel: "v", sampleRate: 1000, chunk })];
      expect(chunks.map(({ length }) => length)).toEqual(expected);
    }
  });

  test("of a ramp and a decay goes on evenly beyond its first 131,072 samples", () => {
    // A whole number of samples to a cycle: the crest of the cosine falls on every 2000th.
    const v = { rms: 1, frequency: 50, slope: { rms: 2 }, decay: { initial: 5, tau: 0.8 } };
    const timeline: Timeline = { wiring, segments: [{ name: "a", duration: 2, channels: { v } }] };
    const samples = render(timeline, { channel: "v", sampleRate: 100_000 });
    for (const n of [0, 100_000, 130_000, 132_000, 198_000]) {
      const t = n / 100_000;
      expect(samples[n]).toBeCloseTo(Math.SQRT2 * (1 + 2 * t) + 5 * Math.exp(-t / 0.8), 11);
    }
  });

  test("fills what it is given, within its view", () => {
    const timeline: Timeline = {
      wiring,
      segments: [{ name: "a", duration: 0.1, channels: { v: { rms: 1, frequency: 50 } } }],
    };
    const clock = { channel: "v", sampleRate: 1000 };
    const all = new Float64Array(120).fill(7);
    const view = all.subarray(10, 110);
    expect(render(timeline, clock, view)).toBe(view);
    expect([...all]).toEqual([...Array(10).fill(7), ...render(timeline, clock), ...Array(10).fill(7)]);
  });

  test("joined timelines give joined records, one phase throughout", () => {
    holds(
      fc.property(timelines, fc.integer({ min: 1, max: 20 }), (two, cycles) => {
        // Whole cycles and whole samples before the second: it begins as it would alone.
        const lead = { name: "lead", duration: cycles / 50, channels: { v: { rms: 10, frequency: 50 } } };
        const clock = { channel: "v", sampleRate: 5000 };
        // A channel that is off at first runs on at the frequency before it, so let it be on.
        fc.pre(two.segments[0]?.channels["v"] !== undefined);
        const joined = render({ wiring, segments: [lead, ...two.segments] }, clock);
        const [a, b] = [render({ wiring, segments: [lead] }, clock), render(two, clock)];
        expect(joined).toHaveLength(a.length + b.length);
        const bound = 1e-12 * Math.max(reachOf(two), 10 * Math.SQRT2);
        expect([...a, ...b].every((x, n) => Math.abs(x - joined[n]!) <= bound)).toBe(true);
      }),
      60,
    );
  });

  test("cutting a state in two changes nothing", () => {
    holds(
      fc.property(timelines, (timeline) => {
        const plain = {
          ...timeline,
          segments: timeline.segments.map(({ channels: { v }, ...rest }) => {
            if (v === undefined) return { ...rest, channels: {} };
            const { slope: _, decay: __, ...still } = v;
            return { ...rest, channels: { v: still } };
          }),
        };
        const halves = {
          ...plain,
          segments: plain.segments.flatMap((one) => [
            { ...one, duration: one.duration / 2 },
            { ...one, duration: one.duration / 2 },
          ]),
        };
        const [a, b] = [plain, halves].map((one) => render(one, { channel: "v", sampleRate: 4800 }));
        const bound = 2e-12 * reachOf(timeline);
        expect(a!.every((x, i) => Math.abs(x - b![i]!) <= bound)).toBe(true);
      }),
      60,
    );
  });

  test("never jumps at a change of frequency alone: no step exceeds slope times sample period", () => {
    const frequencies = fc.array(hundredths(1_000, 7_000), { minLength: 2, maxLength: 6 });
    holds(
      fc.property(frequencies, (list) => {
        const timeline: Timeline = {
          wiring,
          segments: list.map((frequency, i) => ({
            name: `${i}`,
            duration: 0.0937,
            channels: { v: { rms: 1, frequency } },
          })),
        };
        const sampleRate = 10_000;
        const samples = render(timeline, { channel: "v", sampleRate });
        const most = (Math.SQRT2 * 2 * Math.PI * Math.max(...list)) / sampleRate;
        const largest = samples.reduce((max, x, n) => Math.max(max, n === 0 ? 0 : Math.abs(x - samples[n - 1]!)), 0);
        expect(largest).toBeLessThanOrEqual(most * (1 + 1e-9));
      }),
      30,
    );
  });
});
