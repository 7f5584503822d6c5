import fc from "fast-check";
import type { DifferentialSetting } from "tripwright/element";
import { rehearse } from "tripwright/rehearsal";
import type { Timeline } from "tripwright/timeline";
import { expect, test } from "vitest";
import { holds } from "../support/holds.js";

const side = { ratedCurrent: 5, clock: 0, zeroSequence: "kept" } as const;
const relay: DifferentialSetting = {
  id: "87",
  function: "87",
  watches: "differential",
  pickup: 1,
  restraint: "average",
  slopes: [{ slope: 0.2, line: "through-origin" }],
  secondHarmonic: 0.15,
  zone: { first: side, second: side },
  law: { curve: { form: "definite", time: 0 } },
  measuringDelay: 0,
  contact: "trip",
  accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
};
const double = (min: number, max: number) => fc.double({ min, max, noNaN: true });

test("second harmonics of two channels that slip beat twice as fast: H·|1 + 1∠(2 · 360° · s · t)| = 0.15 · 4 A", () => {
  holds(
    fc.property(double(0.35, 2), double(0.2, 5), (rms, slip) => {
      const timeline: Timeline = {
        wiring: { a: { quantity: "current", feeds: { ia: 1 } }, b: { quantity: "current", feeds: { ia2: 1 } } },
        segments: [
          {
            name: "beating",
            duration: 0.3 / slip,
            channels: {
              a: { rms: 4, frequency: 50, harmonics: [{ order: 2, rms }] },
              // No fundamental of its own: nothing of it restrains.
              b: { rms: 0, frequency: 50 + slip, harmonics: [{ order: 2, rms }] },
            },
          },
        ],
      };
      const started = rehearse([relay], timeline).log.find(({ step }) => step === "started");
      // 2 · H · cos(360° · s · t) falls below 0.6 A within a quarter of a turn.
      const at = Math.acos(0.3 / rms) / (2 * Math.PI * slip);
      expect(Math.abs((started?.at ?? 0) - at)).toBeLessThan(1e-9 / slip);
    }),
    60,
  );
});
