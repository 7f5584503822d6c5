import fc from "fast-check";
import { ramp, render, renderChunks, stateAt, type Timeline, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
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
              1e-11 * reachOf(timeline),
            );
          }
        },
      ),
    );
  });

  test("has the samples before its end: n/sampleRate below the total time", () => {
    holds(
      fc.property(timelines, rates, (timeline, sampleRate) => {
        const { length } = render(timeline, { channel: "v", sampleRate });
        const exact = totalTime(timeline) * sampleRate;
        expect(Math.abs(length - exact)).toBeLessThanOrEqual(1 + 1e-9);
        expect(length).toBeGreaterThanOrEqual(exact - 1e-6);
      }),
    );
    const cycle = ramp({
      base: { v: { rms: 1, frequency: 60 } },
      lever: {},
      pieces: [{ duration: 1 / 60, from: 0, to: 0 }],
      wiring,
    });
    expect(render(cycle, { channel: "v", sampleRate: 4800 })).toHaveLength(80);
  });

  test("comes in chunks too, the same to 1e-12 of what it reaches", () => {
    holds(
      fc.property(timelines, fc.integer({ min: 1, max: 5000 }), (timeline, chunk) => {
        const whole = render(timeline, { channel: "v", sampleRate: 4800 });
        const chunks = [...renderChunks(timeline, { channel: "v", sampleRate: 4800, chunk })];
        expect(chunks.slice(0, -1).every(({ length }) => length === chunk)).toBe(true);
        const joined = chunks.flatMap((part) => [...part]);
        expect(joined).toHaveLength(whole.length);
        const bound = 1e-12 * reachOf(timeline);
        expect(joined.every((x, i) => Math.abs(x - whole[i]!) <= bound)).toBe(true);
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
        for (let n = 1; n < samples.length; n++)
          expect(Math.abs(samples[n]! - samples[n - 1]!)).toBeLessThanOrEqual(most * (1 + 1e-9));
      }),
      30,
    );
  });

  test("after a million cycles is still on its phase", () => {
    const frequency = 50.2;
    const timeline: Timeline = {
      wiring,
      segments: [{ name: "long", duration: 20_000, channels: { v: { rms: 1, frequency } } }],
    };
    const chunks = renderChunks(timeline, { channel: "v", sampleRate: 400, chunk: 2 ** 20 });
    let [n, last]: [number, Float64Array] = [0, new Float64Array(0)];
    for (const part of chunks) {
      n += part.length;
      last = part;
    }
    // Cycles at the last sample, exactly: n · 50.2/400 = n · 251/2000.
    const turned = Number((BigInt(n - 1) * 251n) % 2000n) / 2000;
    expect(n).toBe(8_000_000);
    expect(Math.abs(last.at(-1)! - Math.SQRT2 * Math.cos(2 * Math.PI * turned))).toBeLessThanOrEqual(
      5e-13 * Math.SQRT2,
    );
  });
});

describe("what cannot be rendered is refused by name", () => {
  const timeline: Timeline = {
    wiring,
    segments: [
      { name: "a", duration: 3600, channels: { v: { rms: 1, frequency: 50, harmonics: [{ order: 5, rms: 1 }] } } },
    ],
  };
  test.each([
    ["an unknown channel", { channel: "x", sampleRate: 1000 }, undefined, "channel"],
    ["a rate below twice the fifth harmonic", { channel: "v", sampleRate: 500 }, undefined, "sampleRate"],
    ["a rate that is no number", { channel: "v", sampleRate: Number.NaN }, undefined, "sampleRate"],
    ["an hour at 10 MHz", { channel: "v", sampleRate: 1e7 }, undefined, "sampleRate"],
    ["an unknown option", { channel: "v", sampleRate: 1000, rate: 1 }, undefined, "rate"],
    ["an out of another length", { channel: "v", sampleRate: 1000 }, new Float64Array(7), "out"],
  ])("%s", (_what, given, out, path) => {
    expect(problemsOf(() => render(timeline, given as never, out))).toMatchObject([{ path }]);
  });

  test("the count is said, and chunks are the way", () => {
    expect(() => render(timeline, { channel: "v", sampleRate: 1e7 })).toThrow("36000000000 samples");
    expect(renderChunks(timeline, { channel: "v", sampleRate: 1e7, chunk: 100 }).next().value).toHaveLength(100);
  });

  test.each([
    ["a chunk of nothing", { chunk: 0 }, "chunk"],
    ["half a sample", { chunk: 1.5 }, "chunk"],
  ])("%s", (_what, change, path) => {
    expect(problemsOf(() => [...renderChunks(timeline, { channel: "v", sampleRate: 1000, ...change })])).toMatchObject([
      { path },
    ]);
  });
});
