/** What the tests of source limits and of input ratings share: random sequences, and the same states cut in two. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import type { ChannelState, Segment, Timeline } from "tripwright/timeline";
import { hundredths, milliseconds } from "./phases.js";

export const D = Decimal.clone({ defaults: true, precision: 40 });

export const wiring = {
  i: { quantity: "current", feeds: { ia: 1 } },
  v: { quantity: "voltage", feeds: { va: 1 } },
} as const;

export const state = (duration: number, i?: Partial<ChannelState>, name = "state"): Segment => ({
  name,
  duration,
  channels: i === undefined ? {} : { i: { rms: 0, frequency: 50, ...i } },
});
export const sequence = (...segments: Segment[]): Timeline => ({ wiring, segments });
/** Levels of one current, each for so many seconds. */
export const held = (...levels: readonly (readonly [duration: number, rms: number])[]): Timeline =>
  sequence(...levels.map(([duration, rms]) => state(duration, { rms })));

const standing: fc.Arbitrary<Partial<ChannelState>> = fc.record(
  {
    rms: hundredths(0, 40),
    offset: hundredths(-5, 5),
    harmonics: fc.constantFrom(
      [{ order: 3, rms: 3 }],
      [
        { order: 2, rms: 1.5 },
        { order: 5, rms: 2 },
      ],
    ),
  },
  { requiredKeys: ["rms"] },
);
/** From rms and back up to 40 A more; the end is a decimal of five digits. */
const moving: fc.Arbitrary<Partial<ChannelState>> = fc.record({
  rms: hundredths(20, 40),
  slope: fc.record({ rms: fc.integer({ min: -10, max: 20 }) }),
});
const decaying: fc.Arbitrary<Partial<ChannelState>> = fc.record({
  rms: hundredths(0, 30),
  offset: hundredths(-5, 5),
  decay: fc.record({ initial: hundredths(-60, 60), tau: milliseconds(20, 400) }),
});

const segments = (kinds: readonly fc.Arbitrary<Partial<ChannelState>>[]): fc.Arbitrary<readonly Segment[]> =>
  fc.array(
    fc
      .tuple(milliseconds(2, 2000), fc.option(fc.oneof(...kinds), { nil: undefined, freq: 8 }))
      .map(([t, i]) => state(t, i)),
    { minLength: 1, maxLength: 4 },
  );

/** States that stand still or move evenly, and now and then one in which the channel is off. */
export const evenSegments = segments([standing, moving]);
/** With decaying parts too. */
export const allSegments = segments([standing, moving, decaying]);

/** The same states, the first of them cut in two after some milliseconds. */
export function cut([first, ...others]: readonly Segment[], share: number): readonly Segment[] {
  const whole = new D((first as Segment).duration).times(1000).toNumber();
  const before = new D(Math.min(whole - 1, Math.max(1, Math.round(share * whole)))).div(1000).toNumber();
  const after = new D((first as Segment).duration).minus(before).toNumber();
  const channels = Object.entries((first as Segment).channels).map(
    ([name, one]) => [name, later(one, before)] as const,
  );
  return [
    { ...(first as Segment), duration: before },
    { ...(first as Segment), duration: after, channels: Object.fromEntries(channels) },
    ...others,
  ];
}

function later(one: ChannelState, t: number): ChannelState {
  const rms = new D(one.rms).plus(new D(one.slope?.rms ?? 0).times(t)).toNumber();
  const decay = one.decay && { ...one.decay, initial: one.decay.initial * Math.exp(-t / one.decay.tau) };
  return { ...one, rms, ...(decay && { decay }) };
}

/** The mean square of the current at some seconds into a state, by its definition. */
export function squareAt({ channels: { i } }: Segment, t: Decimal.Value): Decimal {
  if (i === undefined) return new D(0);
  const { rms, slope = {}, offset = 0, decay, harmonics = [] } = i;
  const direct = decay ? new D(t).div(decay.tau).neg().exp().times(decay.initial).plus(offset) : new D(offset);
  return harmonics.reduce(
    (sum, one) => sum.plus(new D(one.rms).pow(2)),
    new D(slope.rms ?? 0).times(t).plus(rms).pow(2).plus(direct.pow(2)),
  );
}
