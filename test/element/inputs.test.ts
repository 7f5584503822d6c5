import fc from "fast-check";
import { type ChannelStates, inputsOf, type Wiring } from "tripwright/element";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const INPUTS = ["va", "vb", "vc"];
const CHANNELS = ["v1", "v2", "v3"];
const factor = fc.integer({ min: -40, max: 40 }).map((n) => n / 20);

/** Three channels of one frequency, each wired to any of three inputs by any factor. */
const bench = fc.record({
  states: fc.record(
    Object.fromEntries(
      CHANNELS.map((name) => [
        name,
        fc.record({
          rms: fc.double({ min: 0.1, max: 200, noNaN: true }),
          frequency: fc.constant(50),
          angle: fc.integer({ min: -360, max: 360 }),
        }),
      ]),
    ),
  ),
  feeds: fc.record(
    Object.fromEntries(CHANNELS.map((name) => [name, fc.dictionary(fc.constantFrom(...INPUTS), factor)])),
  ),
});
const wired = (feeds: Record<string, Record<string, number>>): Wiring =>
  Object.fromEntries(Object.entries(feeds).map(([name, to]) => [name, { quantity: "voltage", feeds: to }]));

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

describe("inputsOf", () => {
  test("every input sees the sum of factor · rms · (cos angle, sin angle) of the channels that feed it", () => {
    holds(
      fc.property(bench, ({ states, feeds }) => {
        const seen = inputsOf(states, wired(feeds));
        for (const input of INPUTS) {
          const parts = CHANNELS.map((name) => ({ ...states[name]!, by: feeds[name]![input] ?? 0 }));
          const re = parts.reduce((sum, { rms, angle, by }) => sum + by * rms * Math.cos(radians(angle)), 0);
          const im = parts.reduce((sum, { rms, angle, by }) => sum + by * rms * Math.sin(radians(angle)), 0);
          // Twenty roundings, the angle up to 2π in radians among them, of at most half a unit each.
          const bound = 20 * 2 ** -53 * parts.reduce((sum, { rms, by }) => sum + Math.abs(by) * rms, 0);
          const { re: x, im: y } = seen[input] ?? { re: 0, im: 0 };
          expect(Math.abs(x - re)).toBeLessThanOrEqual(bound);
          expect(Math.abs(y - im)).toBeLessThanOrEqual(bound);
        }
      }),
    );
  });

  test("twice the voltage is twice on every input, exactly", () => {
    holds(
      fc.property(bench, ({ states, feeds }) => {
        const doubled = Object.fromEntries(Object.entries(states).map(([name, s]) => [name, { ...s, rms: 2 * s.rms }]));
        const once = Object.entries(inputsOf(states, wired(feeds)));
        expect(inputsOf(doubled, wired(feeds))).toEqual(
          Object.fromEntries(
            once.map(([name, { re, im, frequency }]) => [name, { re: 2 * re, im: 2 * im, frequency }]),
          ),
        );
      }),
    );
  });

  test("a reversed channel feeds the opposite, and one that feeds two inputs is on both", () => {
    const wiring: Wiring = { v: { quantity: "voltage", feeds: { va: 0.5, vb: -0.5 } } };
    expect(inputsOf({ v: { rms: 110, frequency: 50, angle: 90 } }, wiring)).toEqual({
      va: { re: 0, im: 55, frequency: 50 },
      vb: { re: 0, im: -55, frequency: 50 },
    });
  });

  test("channels of two frequencies on one input are refused by the name of the input, on two inputs they are not", () => {
    const states: ChannelStates = { v1: { rms: 60, frequency: 50 }, v2: { rms: 60, frequency: 51 } };
    const together = wired({ v1: { va: 1, vb: 1 }, v2: { vb: 1 } });
    expect(problemsOf(() => inputsOf(states, together))).toMatchObject([
      { code: "conflict", path: "vb", received: "51" },
    ]);
    expect(inputsOf(states, wired({ v1: { va: 1 }, v2: { vb: 1 } }))).toMatchObject({
      va: { frequency: 50 },
      vb: { frequency: 51 },
    });
  });

  test("a channel without output feeds nothing, whatever its frequency", () => {
    const states: ChannelStates = { v1: { rms: 60, frequency: 50 }, v2: { rms: 0, frequency: 60 } };
    expect(inputsOf(states, wired({ v1: { va: 1 }, v2: { va: 1, vb: 1 } }))).toEqual({
      va: { re: 60, im: 0, frequency: 50 },
    });
  });
});

describe("what is no channel", () => {
  const good = { rms: 10, frequency: 50 };
  const second = { order: 2, rms: 1 };
  test.each<readonly [change: object, path: string]>([
    [{ rms: -1 }, "channels.v1.rms"],
    [{ rms: Number.NaN }, "channels.v1.rms"],
    [{ angle: "0°" }, "channels.v1.angle"],
    [{ frequency: undefined }, "channels.v1.frequency"],
    [{ slope: null }, "channels.v1.slope"],
    [{ offset: Number.NaN }, "channels.v1.offset"],
    [{ decay: { initial: 1, tau: 0 } }, "channels.v1.decay.tau"],
    [{ decay: null }, "channels.v1.decay"],
    [{ slope: { frequency: Number.NaN } }, "channels.v1.slope.frequency"],
    [{ slope: { rms: "1 A/s" } }, "channels.v1.slope.rms"],
    [{ slope: { speed: 1 } }, "channels.v1.slope.speed"],
    [{ harmonics: [{ ...second, order: 1001 }] }, "channels.v1.harmonics[0].order"],
    [{ harmonics: second }, "channels.v1.harmonics"],
    [{ harmonics: [null] }, "channels.v1.harmonics[0]"],
    [{ harmonics: [{ ...second, order: 1.5 }] }, "channels.v1.harmonics[0].order"],
    [{ harmonics: [second, { ...second, rms: 3 }] }, "channels.v1.harmonics[1].order"],
    [{ harmonics: [second, { order: 3, rms: -1 }] }, "channels.v1.harmonics[1].rms"],
    [{ harmonics: [{ ...second, angle: null }] }, "channels.v1.harmonics[0].angle"],
  ])("%j is refused by its field", (change, path) => {
    const states = { v1: { ...good, ...change } } as never;
    expect(problemsOf(() => inputsOf(states, wired({ v1: { va: 1 } })))).toMatchObject([{ path }]);
  });

  test("a factor that is none is refused by the input that it feeds", () => {
    expect(problemsOf(() => inputsOf({ v1: good }, wired({ v1: { va: 1, vb: Number.NaN } })))).toMatchObject([
      { path: "wiring.v1.feeds.vb" },
    ]);
  });
});

describe("harmonics", () => {
  const distorted = (rms: number, angle: number) => ({ order: 2, rms, angle });

  test("reach the inputs by the same factors, each order by itself", () => {
    const seen = inputsOf(
      {
        v1: { rms: 10, frequency: 50, harmonics: [distorted(3, 0), { order: 5, rms: 1 }] },
        // Its own fundamental is nothing, what is on it is not.
        v2: { rms: 0, frequency: 50, harmonics: [distorted(4, 90)] },
      },
      wired({ v1: { va: 1, vb: -0.5 }, v2: { va: 1 } }),
    );
    expect(seen).toEqual({
      va: { re: 10, im: 0, frequency: 50, harmonics: { 2: { re: 3, im: 4 }, 5: { re: 1, im: 0 } } },
      vb: { re: -5, im: 0, frequency: 50, harmonics: { 2: { re: -1.5, im: 0 }, 5: { re: -0.5, im: 0 } } },
    });
  });

  test("of one channel stand beside another without any", () => {
    const seen = inputsOf(
      { v1: { rms: 10, frequency: 50 }, v2: { rms: 5, frequency: 50, harmonics: [distorted(2, 180)] } },
      wired({ v1: { va: 1 }, v2: { va: 1 } }),
    );
    expect(seen["va"]).toMatchObject({ re: 15, harmonics: { 2: { re: -2 } } });
  });
});
