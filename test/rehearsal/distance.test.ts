/** Impedances that move along ramps of voltage and current, against closed forms. */
import fc from "fast-check";
import type { DistanceSetting } from "tripwright/element";
import { angle, magnitude, polar, subtract } from "tripwright/phasor";
import { rehearse } from "tripwright/rehearsal";
import type { Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const zone = (change: object = {}): DistanceSetting =>
  ({
    id: "21",
    function: "21",
    watches: "phase-loops",
    pickup: 4,
    zone: { form: "mho", lineAngle: 75 },
    operates: "forward",
    law: { curve: { form: "definite", time: 0, side: "under" } },
    measuringDelay: 0,
    contact: "trip",
    dropout: { ratio: 1.05 },
    accuracy: { pickup: { percent: 5 }, time: { absolute: 0.04 } },
    ...change,
  }) as DistanceSetting;
const earthZone = (change: object = {}) =>
  zone({ watches: "earth-loops", earth: { factor: { re: 0.5, im: 0 } }, ...change });

/** One voltage between lines a and b, one current out on a and back on b: Z = v/(2·i). */
const loop = (duration: number, v: object, i: object): Timeline =>
  ({
    wiring: {
      v: { quantity: "voltage", feeds: { va: 0.5, vb: -0.5 } },
      i: { quantity: "current", feeds: { ia: 1, ib: -1 } },
    },
    segments: [{ name: "moving", duration, channels: { v: { frequency: 50, ...v }, i: { frequency: 50, ...i } } }],
  }) as unknown as Timeline;
const stepAt = (setting: DistanceSetting, timeline: Timeline, wanted: string): number | undefined =>
  rehearse([setting], timeline).log.find(({ step }) => step === wanted)?.at;
const near = (found: number | undefined, expected: number) =>
  expect(Math.abs((found ?? Number.NaN) - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, expected));

/** Two voltages of their own, and one current out on a and back on b. */
const betweenPhases: Timeline["wiring"] = {
  va: { quantity: "voltage", feeds: { va: 1 } },
  vb: { quantity: "voltage", feeds: { vb: 1 } },
  i: { quantity: "current", feeds: { ia: 1, ib: -1 } },
};

describe("an impedance that moves", () => {
  test("along a ramp of voltage crosses where v = 2·I·Z·cos(angle to the line), to 1e-9", () => {
    holds(
      fc.property(number(15, 135), number(1, 8), number(0.5, 20), (turn, current, seconds) => {
        const boundary = 4 * Math.cos(((turn - 75) * Math.PI) / 180);
        const from = 2 * current * boundary * 2;
        const falling = loop(seconds, { rms: from, slope: { rms: -from / seconds } }, { rms: current, angle: -turn });
        // From twice the boundary to nothing: half of the time.
        near(stepAt(zone(), falling, "started"), seconds / 2);
        const rising = loop(seconds, { rms: 0.001, slope: { rms: from / seconds } }, { rms: current, angle: -turn });
        near(stepAt(zone(), rising, "released"), ((1.05 * from) / 2 - 0.001) / (from / seconds));
      }),
      100,
    );
  });

  test("along a ramp of current crosses where i = v/(2·Z)", () => {
    holds(
      fc.property(number(10, 90), number(0.5, 10), (volts, seconds) => {
        const rising = loop(seconds, { rms: volts }, { rms: 0, angle: -75, slope: { rms: 20 / seconds } });
        near(stepAt(zone(), rising, "started"), (volts / 8 / 20) * seconds);
      }),
      100,
    );
  });

  test("that turns at one size enters a mho at ∓acos(|Z|/reach) from the line, and a quadrilateral at its limits", () => {
    holds(
      fc.property(number(0.5, 3.8), (ohm) => {
        // The current turns back by 90° a second, so that the impedance turns on from −60°.
        const turning = loop(3, { rms: 2 * 5 * ohm }, { rms: 5, angle: 60, slope: { angle: -90 } });
        const half = (Math.acos(ohm / 4) * 180) / Math.PI;
        near(stepAt(zone(), turning, "started"), (75 - half + 60) / 90);
        const wide = zone({
          zone: { form: "quadrilateral", lineAngle: 75, resistanceRatio: 2, forward: { from: -15, to: 115 } },
        });
        near(stepAt(wide, turning, "started"), 45 / 90);
        // The reactance line is far enough only for small ones.
        if (ohm < 3) near(stepAt(wide, turning, "released"), 175 / 90);
      }),
      60,
    );
  });

  test("that comes nearer and goes through the relay is behind it from there on", () => {
    // va falls as vb rises, in phase: vab = 20 − 40·t.
    const timeline: Timeline = {
      wiring: betweenPhases,
      segments: [
        {
          name: "crossing",
          duration: 1,
          channels: {
            va: { rms: 60, frequency: 50, slope: { rms: -20 } },
            vb: { rms: 40, frequency: 50, slope: { rms: 20 } },
            i: { rms: 5, frequency: 50, angle: -75 },
          },
        },
      ],
    };
    const log = rehearse([zone({ pickup: 1 })], timeline).log.filter(({ step }) => step !== "operated");
    expect(log.map(({ step }) => step)).toEqual(["started", "released"]);
    // 10 V over 10 A at 0.25 s.
    near(log[0]?.at, 0.25);
    near(log[1]?.at, 0.5);
  });

  test("that passes in front of the relay is seen for the moment in which it lies forward, far on both sides of it", () => {
    // The loop measures va∠−40° − vb, vb held: a straight way at right angles to 50°, 0.05 ohm away from the relay.
    const held = subtract(polar(3, -40), polar(0.05, 50));
    const timeline: Timeline = {
      wiring: betweenPhases,
      segments: [
        {
          name: "passing",
          duration: 10,
          channels: {
            va: { rms: 0, frequency: 50, angle: -40, slope: { rms: 1 } },
            vb: { rms: magnitude(held), frequency: 50, angle: angle(held) },
            i: { rms: 0.5, frequency: 50 },
          },
        },
      ],
    };
    const wide = zone({
      zone: { form: "quadrilateral", lineAngle: 75, resistanceRatio: 2, forward: { from: -15, to: 115 } },
    });
    // 65° to either side of 50°.
    const aside = 0.05 * Math.tan((65 * Math.PI) / 180);
    near(stepAt(wide, timeline, "started"), 3 - aside);
    near(stepAt(wide, timeline, "released"), 3 + aside);
  });

  test("of a loop to earth: v = I·Z·|1 + k0|", () => {
    const falling: Timeline = {
      wiring: { v: { quantity: "voltage", feeds: { vb: 1 } }, i: { quantity: "current", feeds: { ib: 1 } } },
      segments: [
        {
          name: "falling",
          duration: 10,
          channels: {
            v: { rms: 60, frequency: 60, slope: { rms: -6 } },
            i: { rms: 5, frequency: 60, angle: -75 },
          },
        },
      ],
    };
    // 5 · 4 · 1.5 = 30 V after 5 s.
    near(stepAt(earthZone(), falling, "started"), 5);
  });
});
