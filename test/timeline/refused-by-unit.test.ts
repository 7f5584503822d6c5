/** Levels that are rates, and what is refused: the place, the kind of problem, and the unit. */
import fc from "fast-check";
import { atLevel, ramp, render, renderChunks, type Timeline, toInt16, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
const state = { rms: 1, frequency: 50 };
const lasting = (channel: object, duration = 1): Timeline =>
  ({ wiring, segments: [{ name: "only", duration, channels: { i: { ...state, ...channel } } }] }) as Timeline;
const clock = { channel: "i", sampleRate: 1000 };

describe("a level that is a rate of change of frequency", () => {
  const base = { i: { ...state, slope: { frequency: 0.5, rms: 2 } } };

  test("is added to the slope that there is, which keeps its other parts", () => {
    const number = fc.double({ min: -10, max: 10, noNaN: true });
    holds(
      fc.property(number, number, (frequencyRate, level) => {
        const moved = atLevel(base, { lever: { i: { frequencyRate } }, level });
        expect(moved["i"]).toEqual({ ...state, slope: { frequency: 0.5 + frequencyRate * level + 0, rms: 2 } });
        const fresh = atLevel({ i: state }, { lever: { i: { frequencyRate } }, level });
        expect(fresh["i"]?.slope).toEqual({ frequency: frequencyRate * level + 0 });
      }),
    );
  });

  test("is refused where it is no number, or leads out of the doubles", () => {
    const at = (frequencyRate: unknown, level = 1) =>
      problemsOf(() => atLevel(base, { lever: { i: { frequencyRate } } as never, level }));
    expect(at(Number.NaN)).toMatchObject([
      { path: "lever.i.frequencyRate", code: "not-finite", expected: "a rate in Hz/s per level, a finite number" },
    ]);
    expect(at(1e300, 1e300)).toMatchObject([
      { path: "lever.i.frequencyRate", code: "out-of-range", expected: "a level at which the rate fits a double" },
    ]);
  });
});

test.each<readonly [string, () => unknown, string, string, string]>([
  [
    "no lever",
    () => atLevel({ i: state }, { level: 1 } as never),
    "lever",
    "missing",
    "a lever such as { i: { rms: 1 } }",
  ],
  [
    "a lever of a channel that is a number",
    () => atLevel({ i: state }, { lever: { i: 1 } as never, level: 1 }),
    "lever.i",
    "wrong-type",
    "what a level moves, such as { rms: 1 }",
  ],
  [
    "a lever on another channel",
    () => atLevel({ i: state, v: state }, { lever: { u: { rms: 1 } }, level: 1 }),
    "lever.u",
    "unknown-name",
    "one of the channels i, v",
  ],
  [
    "a piece that takes no time",
    () => ramp({ base: { i: state }, lever: { i: { rms: 1 } }, pieces: [{ duration: 0, from: 0, to: 1 }], wiring }),
    "pieces[0].duration",
    "out-of-range",
    "a time above 0 s",
  ],
  [
    "a state that takes no time",
    () => render(lasting({}, 0), clock),
    "segments[0].duration",
    "out-of-range",
    "a time above 0 s",
  ],
  [
    "a frequency below 0",
    () => render(lasting({ frequency: -50 }), clock),
    "segments[0].channels.i.frequency",
    "out-of-range",
    "a frequency of 0 Hz or more",
  ],
  [
    "a debounce time below 0",
    () => walk(lasting({}), [], { debounce: -1 }),
    "debounce",
    "out-of-range",
    "a time of 0 s or more",
  ],
  [
    "more samples than memory",
    () => render(lasting({}, 1e9), clock),
    "sampleRate",
    "too-many",
    "at most 134217728 samples at once (renderChunks makes longer records)",
  ],
  [
    "more samples than can be counted",
    () => renderChunks(lasting({}, 1e15), clock),
    "sampleRate",
    "too-many",
    "samples that can be counted, up to 2^53 − 1",
  ],
  ["codes into a list", () => toInt16([1], { fullScale: 1 }, [0] as never), "out", "wrong-type", "an Int16Array"],
  [
    "codes into less",
    () => toInt16([1, 1], { fullScale: 1 }, new Int16Array(1)),
    "out",
    "wrong-length",
    "a length of 2",
  ],
])("%s", (_what, work, path, code, expected) => {
  expect(problemsOf(work)).toMatchObject([{ path, code, expected }]);
});

test("parts whose sum no recurrence holds are refused, whatever their signs", () => {
  const huge = 2e307;
  const harmonics = [{ order: 3, rms: huge }];
  for (const parts of [
    { rms: huge, harmonics },
    { rms: huge, offset: -huge },
    { rms: huge, offset: huge },
    { rms: huge, decay: { initial: -huge, tau: 1 } },
    { rms: huge, decay: { initial: huge, tau: 1 } },
  ])
    expect(problemsOf(() => render(lasting(parts), clock))).toMatchObject([
      { path: "segments[0].channels.i", expected: "parts whose sum is below 4e307" },
    ]);
  expect(render(lasting({ rms: 1e307 }), clock)).toHaveLength(1000);
});
