import fc from "fast-check";
import type { ElementSetting } from "tripwright/element";
import { rehearse } from "tripwright/rehearsal";
import type { Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";

const common = {
  measuringDelay: 0.04,
  contact: "trip",
  startContact: "start",
  accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
};
const definite = { curve: { form: "definite", time: 0.2 } };
/** One of each kind on currents; on a current of 1 A for each A of `scale`. */
const relay = (scale: number): readonly ElementSetting[] =>
  [
    { id: "50P", function: "50", watches: "phase", pickup: 6, law: definite },
    { id: "51P", function: "51", watches: "phase", pickup: 2, law: { curve: "iec-very-inverse", multiplier: 0.1 } },
    { id: "50N", function: "50N", watches: "residual", pickup: 3, law: definite },
    {
      id: "46",
      function: "46",
      watches: "I2",
      rotation: "ABC",
      pickup: 1,
      law: { curve: "ieee-very-inverse", multiplier: 0.2 },
    },
    {
      id: "37",
      function: "37",
      watches: "phase",
      phases: "any",
      pickup: 1,
      armAbove: 2 * scale,
      law: { curve: { form: "definite", time: 0.3, side: "under" } },
    },
  ].map((one) => ({ ...common, ...one, pickup: one.pickup * scale })) as never;

const wiring = {
  i1: { quantity: "current", feeds: { ia: 1 } },
  i2: { quantity: "current", feeds: { ib: 1 } },
  i3: { quantity: "current", feeds: { ic: 1 } },
} as const;
const double = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const channel = fc.record({ rms: double(0, 12), angle: double(-180, 180), to: double(0, 12), turns: double(-90, 90) });
const states = fc.array(fc.tuple(double(0.05, 1), fc.tuple(channel, channel, channel)), { minLength: 1, maxLength: 4 });
type States = typeof states extends fc.Arbitrary<infer T> ? T : never;

const timelineOf = (parts: States, { scale = 1, turned = 0 } = {}): Timeline => ({
  wiring,
  segments: parts.map(([duration, channels], n) => ({
    name: `state ${n}`,
    duration,
    channels: Object.fromEntries(
      channels.map(({ rms, angle, to, turns }, i) => [
        `i${i + 1}`,
        {
          rms: rms * scale,
          frequency: 50,
          angle: angle + turned,
          slope: { rms: ((to - rms) * scale) / duration, angle: turns },
        },
      ]),
    ),
  })),
});

function expectSame(one: ReturnType<typeof rehearse>, other: ReturnType<typeof rehearse>): void {
  const words = ({ events }: typeof one) => events.map(({ contact, to, element }) => `${element}: ${contact} ${to}`);
  expect(words(other)).toEqual(words(one));
  // The inverse times along bowed quantities, and crossings at a slant, are as good as this.
  for (const [i, { at }] of one.events.entries()) expect(Math.abs((other.events[i]?.at ?? 0) - at)).toBeLessThan(1e-9);
}

describe("nothing changes", () => {
  test("when all currents and all settings are so many times as large", () => {
    holds(
      fc.property(states, fc.integer({ min: -4, max: 8 }), (parts, power) => {
        const scale = 2 ** power;
        expectSame(rehearse(relay(1), timelineOf(parts)), rehearse(relay(scale), timelineOf(parts, { scale })));
      }),
      30,
    );
  });

  test("when all angles are turned alike", () => {
    holds(
      fc.property(states, double(-720, 720), (parts, turned) => {
        expectSame(rehearse(relay(1), timelineOf(parts)), rehearse(relay(1), timelineOf(parts, { turned })));
      }),
      30,
    );
  });

  test("for an element when others, which no contact waits for, take part beside it", () => {
    holds(
      fc.property(states, fc.nat(4), (parts, which) => {
        const timeline = timelineOf(parts);
        const alone = relay(1)[which] as ElementSetting;
        const own = rehearse(relay(1), timeline).log.filter(({ element }) => element === alone.id);
        expect(rehearse([alone], timeline).log).toEqual(own);
      }),
      20,
    );
  });
});

test("channels that turn together at another frequency do not turn against each other", () => {
  holds(
    fc.property(states, double(45, 65), (parts, frequency) => {
      const timeline = timelineOf(parts);
      const other = {
        wiring,
        segments: timeline.segments.map((segment) => ({
          ...segment,
          channels: Object.fromEntries(
            Object.entries(segment.channels).map(([name, state]) => [name, { ...state, frequency }]),
          ),
        })),
      };
      expectSame(rehearse(relay(1), timeline), rehearse(relay(1), other));
    }),
    20,
  );
});
