/** What the tests of phase share: random sequences, the distance of directions, and an integration in 60 digits. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { type ChannelState, type Segment, stateAt, type Timeline } from "tripwright/timeline";

const D = Decimal.clone({ defaults: true, precision: 60 });

/** What the doc comment of stateAt promises, within a million cycles. */
export const PROMISED = 1e-9;

export const wiring = {
  i: { quantity: "current", feeds: { ia: 1 } },
  v: { quantity: "voltage", feeds: { va: 1 } },
} as const;

export const phaseAt = (timeline: Timeline, t: number, channel = "i"): number =>
  stateAt(timeline, t).channels[channel]!.phase;

/** How far two directions lie apart, in degrees. */
export const apart = (a: Decimal.Value, b: Decimal.Value): number =>
  new D(a).minus(b).plus(180).mod(360).plus(360).mod(360).minus(180).abs().toNumber();

/**
 * 360 · ∫ f dt + angle, walking forward: a stretch in which the frequency moves evenly counts its mean frequency, and a
 * channel that is off keeps the frequency that it had last, or will have first.
 */
export function integrated({ segments }: Timeline, t: number, channel = "i"): Decimal {
  const first = segments.find(({ channels }) => channels[channel])?.channels[channel]?.frequency ?? 0;
  let [left, frequency, cycles, angle] = [new D(t), new D(first), new D(0), new D(0)];
  for (const { duration, channels } of segments) {
    const state = channels[channel];
    const length = D.min(left, duration);
    const start = new D(state?.frequency ?? frequency);
    frequency = start.plus(length.times(state?.slope?.frequency ?? 0));
    cycles = cycles.plus(start.plus(frequency).div(2).times(length));
    angle = new D(state?.angle ?? 0).plus(length.times(state?.slope?.angle ?? 0));
    left = left.minus(length);
    if (length.lt(duration)) break;
  }
  return cycles.times(360).plus(angle);
}

export const hundredths = (low: number, high: number) =>
  fc.integer({ min: 100 * low, max: 100 * high }).map((n) => n / 100);
export const milliseconds = (low: number, high: number) => fc.integer({ min: low, max: high }).map((n) => n / 1000);

const channelState: fc.Arbitrary<ChannelState> = fc.record(
  {
    rms: fc.constant(1),
    frequency: hundredths(40, 70),
    angle: hundredths(-400, 400),
    slope: fc.record({ frequency: hundredths(-2, 2), angle: hundredths(-90, 90) }, { requiredKeys: [] }),
  },
  { requiredKeys: ["rms", "frequency"] },
);

const segment: fc.Arbitrary<Segment> = fc.record({
  name: fc.constant("state"),
  duration: milliseconds(1, 10_000),
  channels: fc.record({ i: channelState, v: channelState }, { requiredKeys: [] }),
});

/** Up to six states of constant and moving frequency and angle, either channel on or off; at most 60 s. */
export const timelines: fc.Arbitrary<Timeline> = fc
  .array(segment, { minLength: 1, maxLength: 6 })
  .map((segments) => ({ wiring, segments }));

/** An instant on the millisecond within a sequence, at one of its boundaries as often as not. */
export const timelineAndInstant = timelines.chain((timeline) => {
  const ends: number[] = [0];
  for (const { duration } of timeline.segments) ends.push(ends.at(-1)! + Math.round(duration * 1000));
  const instant = fc.oneof(fc.constantFrom(...ends), fc.integer({ min: 0, max: ends.at(-1)! }));
  return fc.tuple(
    fc.constant(timeline),
    instant.map((n) => n / 1000),
  );
});
