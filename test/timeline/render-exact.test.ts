/** Samples against 50 digits: every state from its first sample to its last, on clocks that do not fit the states. */
import fc from "fast-check";
import { type ChannelState, render, renderChunks, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { cosineOf, D, exactly, type Reference, SQRT2 } from "../base/reference.js";
import { holds } from "../support/holds.js";
import { hundredths, wiring } from "./phases.js";

/** What the doc comment of render promises, as a share of the sum of the peaks. */
const PROMISED = 5e-13;

/** Milliseconds and sixtieths of a second in whole ticks. */
const TICKS = 3000;
const sixtieths = fc.integer({ min: 1, max: 30 }).map((n) => n * 50);
const milliseconds = fc.integer({ min: 1, max: 500 }).map((n) => n * 3);

/** A sample rate as numerator and denominator. */
type Rate = readonly [number, number];
const rates = fc.constantFrom<Rate[]>(
  [4800, 1],
  [44_100, 1],
  [10_000, 1],
  [1_000_000, 123],
  [10_000_000, 123],
  [2_500_000, 7],
);

const harmonics = fc.uniqueArray(
  fc.record({ order: fc.integer({ min: 2, max: 7 }), rms: hundredths(0, 5), angle: hundredths(-400, 400) }),
  { selector: ({ order }) => order, maxLength: 2 },
);
const channelState: fc.Arbitrary<ChannelState> = fc.record(
  {
    rms: hundredths(0, 20),
    frequency: hundredths(40, 70),
    angle: hundredths(-400, 400),
    offset: hundredths(-5, 5),
    decay: fc.record({ initial: hundredths(-50, 50), tau: milliseconds.map((n) => n / TICKS) }),
    harmonics,
    slope: fc.record(
      { rms: hundredths(0, 20), frequency: hundredths(-20, 20), angle: hundredths(-900, 900) },
      { requiredKeys: [] },
    ),
  },
  { requiredKeys: ["rms", "frequency"] },
);

interface Part {
  readonly ticks: number;
  readonly state: ChannelState | undefined;
}
const sequences = fc.array(
  fc.record({ ticks: fc.oneof(sixtieths, milliseconds), state: fc.option(channelState, { nil: undefined }) }),
  { minLength: 1, maxLength: 4 },
);

const timelineOf = (parts: readonly Part[]): Timeline => ({
  wiring,
  segments: parts.map(({ ticks, state }) => ({
    name: "state",
    duration: ticks / TICKS,
    channels: state === undefined ? {} : { i: state },
  })),
});

/** How many samples lie before so many ticks: none is counted that lies on them. */
const before = (ticks: number, [over, under]: Rate): number =>
  new D(ticks).times(over).div(new D(TICKS).times(under)).minus("1e-40").ceil().toNumber();

/** √2 · rms(t) · cos(360 · ∫ f dt + angle(t)) + offset + decay + harmonics, from the definition. */
function valueAt(parts: readonly Part[], n: number, [over, under]: Rate): Reference {
  let left: Reference = new D(n).times(under).div(over);
  let frequency: Reference = new D(parts.find(({ state }) => state)?.state?.frequency ?? 0);
  let cycles = new D(0);
  for (const { ticks, state } of parts) {
    const duration = new D(ticks).div(TICKS);
    const isHere = left.lt(duration.minus("1e-40"));
    const time: Reference = isHere ? left : duration;
    const end: Reference = new D(state?.frequency ?? frequency).plus(time.times(state?.slope?.frequency ?? 0));
    cycles = cycles.plus(
      end
        .plus(state?.frequency ?? frequency)
        .div(2)
        .times(time),
    );
    if (isHere) return state === undefined ? new D(0) : partsAt(state, time, cycles);
    frequency = end;
    left = left.minus(duration);
  }
  throw new Error("beyond the end");
}

function partsAt(state: ChannelState, since: Reference, cycles: Reference): Reference {
  const { rms, angle = 0, offset = 0, decay, harmonics: others = [], slope = {} } = state;
  const turned = cycles.times(360);
  const size = since.times(slope.rms ?? 0).plus(rms);
  const fundamental = size.times(
    cosineOf(
      since
        .times(slope.angle ?? 0)
        .plus(angle)
        .plus(turned),
    ),
  );
  const cosines = others.reduce(
    (sum, one) => sum.plus(cosineOf(turned.times(one.order).plus(one.angle ?? 0)).times(one.rms)),
    fundamental,
  );
  const decayed = decay === undefined ? 0 : D.exp(since.neg().div(decay.tau)).times(decay.initial);
  return cosines.times(SQRT2).plus(offset).plus(decayed);
}

const peaksOf = (parts: readonly Part[]): number =>
  Math.max(
    ...parts.map(({ ticks, state }) => {
      const { rms = 0, offset = 0, decay, harmonics: others = [], slope = {} } = state ?? {};
      const cosines = others.reduce((sum, one) => sum + one.rms, rms + ((slope.rms ?? 0) * ticks) / TICKS);
      return Math.SQRT2 * cosines + Math.abs(offset) + Math.abs(decay?.initial ?? 0);
    }),
  );

describe("a record", () => {
  test("has the value of its definition at the first and the last sample of every state, and between", () => {
    holds(
      fc.property(sequences, rates, fc.nat(), (parts, rate, any) => {
        const samples = render(timelineOf(parts), { channel: "i", sampleRate: rate[0] / rate[1] });
        const ends = parts.map((_, i) => parts.slice(0, i + 1).reduce((sum, { ticks }) => sum + ticks, 0));
        const firsts = ends.map((ticks) => before(ticks, rate));
        expect(samples).toHaveLength(firsts.at(-1)!);
        const places = [0, any % samples.length, ...firsts.flatMap((first) => [first - 1, first])];
        for (const n of places.filter((place) => place >= 0 && place < samples.length)) {
          const off = exactly(samples[n]!)
            .minus(valueAt(parts, n, rate))
            .abs()
            .toNumber();
          expect(off).toBeLessThanOrEqual(PROMISED * peaksOf(parts));
        }
      }),
      100,
    );
  });

  test("keeps it to the end of 1.5 million cycles of a moving frequency with a harmonic", () => {
    const state = { rms: 1, frequency: 45.01, slope: { frequency: 0.0003 }, harmonics: [{ order: 3, rms: 0.5 }] };
    const parts = [
      { ticks: 50, state: { rms: 1, frequency: 61.3 } },
      { ticks: 30_000 * TICKS, state },
    ];
    const rate: Rate = [330, 1];
    let n = 0;
    for (const chunk of renderChunks(timelineOf(parts), { channel: "i", sampleRate: 330, chunk: 100_003 })) {
      const place = n + chunk.length - 1;
      const off = exactly(chunk.at(-1)!)
        .minus(valueAt(parts, place, rate))
        .abs()
        .toNumber();
      expect(off).toBeLessThanOrEqual(PROMISED * 1.5 * Math.SQRT2);
      n += chunk.length;
    }
    expect(n).toBe(9_900_006);
  });
});

describe("the samples of a record are those before its end", () => {
  test.each([
    ["a cycle of 60 Hz at 4,800 Hz", [1 / 60], 4800, 80],
    ["11 cycles of 60 Hz at 4,800 Hz", [11 / 60], 4800, 880],
    ["60 times a sixtieth of a second", Array.from({ length: 60 }, () => 1 / 60), 44_100, 44_100],
    ["a tenth and two tenths, which are more than 0.3 as doubles", [0.1, 0.2], 10, 3],
    ["21,000 at 6.4 kHz in 3.28125 s", [3.28125], 6400, 21_000],
    ["two periods of 12.3 ms", [0.0246], 1 / 12.3e-3, 2],
    ["a hair more than two periods", [0.0246001], 1 / 12.3e-3, 3],
    ["the one at 0, of a state much shorter than a period", [1e-9], 1000, 1],
    ["none of a state between two samples", [0.0011, 0.0003, 0.0006], 1000, 2],
  ])("%s", (_what, durations, sampleRate, count) => {
    const segments = durations.map((duration, i) => ({
      name: "state",
      duration,
      channels: { i: { rms: 0, frequency: 0, offset: i + 1 } },
    }));
    expect(render({ wiring, segments }, { channel: "i", sampleRate })).toHaveLength(count);
  });

  test("and each belongs to the state in which its instant lies: one at a boundary to the later state", () => {
    const segments = [0.0011, 0.0003, 0.0006, 0.002].map((duration, i) => ({
      name: "state",
      duration,
      channels: { i: { rms: 0, frequency: 0, offset: i + 1 } },
    }));
    expect(Array.from(render({ wiring, segments }, { channel: "i", sampleRate: 1000 }))).toEqual([1, 1, 4, 4]);
    expect(Array.from(render({ wiring, segments }, { channel: "i", sampleRate: 10_000 }).subarray(10, 22))).toEqual([
      1, 2, 2, 2, 3, 3, 3, 3, 3, 3, 4, 4,
    ]);
  });
});
