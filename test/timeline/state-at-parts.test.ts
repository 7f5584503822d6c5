/** Offset, decaying part and harmonics of a channel within a sequence. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { type Sinusoid, valueAt } from "tripwright/sinusoid";
import { type ChannelState, stateAt, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { apart, hundredths, integrated, milliseconds, PROMISED, timelineAndInstant, wiring } from "./phases.js";

const D = Decimal.clone({ defaults: true, precision: 50 });

const sequence = (...states: [duration: number, state: ChannelState][]): Timeline => ({
  wiring,
  segments: states.map(([duration, state]) => ({ name: "state", duration, channels: { i: state } })),
});
const channelAt = (timeline: Timeline, t: number) => stateAt(timeline, t).channels["i"]!;

const harmonics = fc.uniqueArray(
  fc.record({ order: fc.integer({ min: 2, max: 50 }), rms: hundredths(0, 5), angle: hundredths(-400, 400) }),
  { selector: ({ order }) => order, minLength: 1, maxLength: 4 },
);
const decay = fc.record({ initial: hundredths(-50, 50), tau: milliseconds(1, 500) });
const waves: fc.Arbitrary<Sinusoid> = fc.record({
  rms: hundredths(0, 20),
  frequency: hundredths(40, 70),
  angle: hundredths(-400, 400),
  offset: hundredths(-5, 5),
  decay,
  harmonics,
});

/** The wave from an instant on, as a sinusoid whose time starts there. */
function fromHere(timeline: Timeline, t: number): Sinusoid {
  const { phase, harmonics: parts = [], ...wave } = channelAt(timeline, t);
  return { ...wave, angle: phase, harmonics: parts.map((part) => ({ ...part, angle: part.phase })) };
}

/** No sample of a wave can be larger. */
const size = ({ rms, offset = 0, decay: { initial } = { initial: 0, tau: 1 }, harmonics: parts = [] }: Sinusoid) =>
  Math.SQRT2 * [rms, ...parts.map((part) => part.rms)].reduce((a, b) => a + b) + Math.abs(offset) + Math.abs(initial);

describe("a harmonic", () => {
  test("has turned by its order times what the fundamental has turned, whatever the frequency did", () => {
    holds(
      fc.property(timelineAndInstant, harmonics, ([timeline, t], parts) => {
        const segments = timeline.segments.map(({ channels, ...segment }) => ({
          ...segment,
          channels: channels["i"] ? { i: { ...channels["i"], harmonics: parts } } : {},
        }));
        // What the given angles of the fundamental add is no part of its turning.
        const bare = segments.map(({ channels: { i }, ...segment }) => ({
          ...segment,
          channels: i ? { i: { ...i, angle: 0, slope: { ...i.slope, angle: 0 } } } : {},
        }));
        const turned = integrated({ wiring, segments: bare }, t);
        for (const { order, angle, phase } of channelAt({ wiring, segments }, t).harmonics ?? []) {
          expect(apart(phase, turned.times(order).plus(angle ?? 0))).toBeLessThanOrEqual(PROMISED);
          expect(phase > -180 && phase <= 180).toBe(true);
        }
      }),
    );
  });

  test("keeps what was given of it, and moves with the frequency alone", () => {
    const third = { order: 3, rms: 2, angle: 10 };
    const state = {
      rms: 10,
      frequency: 50,
      angle: 30,
      harmonics: [third],
      slope: { rms: -2, frequency: 2, angle: 90 },
    };
    // A second from 50 to 52 Hz is 51 cycles, so that no part of a turn is left.
    expect(channelAt(sequence([4, state]), 1).harmonics).toEqual([{ ...third, phase: 10 }]);
    // Half a second is 25.25 cycles, of the third harmonic 75.75.
    expect(channelAt(sequence([4, state]), 0.5).harmonics).toEqual([{ ...third, phase: -80 }]);
  });

  test("without an angle is given back without one", () => {
    const state = { rms: 10, frequency: 50, harmonics: [{ order: 2, rms: 1 }] };
    expect(channelAt(sequence([1, state]), 0.0025).harmonics).toEqual([{ order: 2, rms: 1, phase: 90 }]);
  });
});

describe("a decaying part", () => {
  test("is initial · exp(−since/tau), counted from the beginning of its state", () => {
    holds(
      fc.property(waves, milliseconds(1, 3000), milliseconds(0, 1500), (wave, before, since) => {
        const timeline = sequence([before, { rms: 1, frequency: 50, decay: { initial: 7, tau: 1 } }], [1.5, wave]);
        const { initial, tau } = wave.decay!;
        const expected = new D(-since).div(tau).exp().times(initial);
        const left = channelAt(timeline, Number((before + since).toFixed(3))).decay!;
        expect(left.tau).toBe(tau);
        expect(expected.minus(left.initial).abs().toNumber()).toBeLessThanOrEqual(4e-16 * Math.abs(initial));
      }),
    );
  });

  test("that has died away is 0, and never −0", () => {
    const state = { rms: 1, frequency: 50, decay: { initial: -1, tau: 1e-9 } };
    expect(channelAt(sequence([1, state]), 0.5).decay).toEqual({ initial: 0, tau: 1e-9 });
  });

  test("is not there where the state has none", () => {
    const timeline = sequence([1, { rms: 1, frequency: 50 }]);
    expect(channelAt(timeline, 0.5)).toEqual({ rms: 1, frequency: 50, angle: 0, phase: 0 });
  });
});

describe("what moves", () => {
  const typed = fc.integer({ min: 0, max: 100_000 }).map((n) => n / 1000);

  test("is where the decimals lead that were typed: 0.1 A and 0.2 A/s are 0.3 A after a second", () => {
    holds(
      fc.property(typed, typed, milliseconds(0, 9999), (from, rate, since) => {
        const slope = { rms: rate, frequency: rate, angle: rate };
        const timeline = sequence([10, { rms: from, frequency: from, angle: from, slope }]);
        const to = new D(from).plus(new D(rate).times(since)).toNumber();
        expect(channelAt(timeline, since)).toMatchObject({ rms: to, frequency: to, angle: to });
      }),
    );
  });

  test("moves on unseen at the frequency that it had reached, to the last digit", () => {
    // 49.77 Hz + 1.22 Hz/s · 1 ms; in doubles the sum is a rounding above, which the phase of a high harmonic would show.
    const moving = { rms: 1, frequency: 49.77, slope: { frequency: 1.22 } };
    const [on] = sequence([0.001, moving]).segments;
    const timeline = { wiring, segments: [on!, { name: "off", duration: 1, channels: {} }] };
    expect(channelAt(timeline, 0.5)).toMatchObject({ rms: 0, frequency: 49.77122 });
  });
});

describe("the wave of a channel", () => {
  test("goes on from any instant as the sinusoid that it was", () => {
    holds(
      fc.property(waves, milliseconds(0, 1000), fc.integer({ min: 0, max: 400 }), (wave, t, n) => {
        const ahead = n / 10_000;
        const later = valueAt(fromHere(sequence([2, wave]), t), ahead);
        expect(Math.abs(later - valueAt(wave, Number((t + ahead).toFixed(4))))).toBeLessThanOrEqual(1e-10 * size(wave));
      }),
    );
  });

  test("does not notice that its state was split in two, decay and all", () => {
    holds(
      fc.property(waves, milliseconds(1, 999), milliseconds(0, 999), (wave, cut, beyond) => {
        const { phase: _, ...rest } = channelAt(sequence([2, wave]), cut);
        const split = sequence([cut, wave], [Number((2 - cut).toFixed(3)), { ...rest, angle: wave.angle! }]);
        const t = Number((cut + beyond).toFixed(3));
        const [whole, parted] = [fromHere(sequence([2, wave]), t), fromHere(split, t)].map((each) => valueAt(each, 0));
        expect(Math.abs(whole! - parted!)).toBeLessThanOrEqual(1e-10 * size(wave));
      }),
    );
  });
});
