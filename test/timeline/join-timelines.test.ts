import fc from "fast-check";
import { joinTimelines, repeatTimeline, type Segment, stateAt, type Timeline, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { timelines } from "./phases.js";

const i = { quantity: "current", feeds: { ia: 1, ib: -0.5 } } as const;
const v = { quantity: "voltage", feeds: { va: 1 } } as const;
const state: Segment = { name: "held", duration: 0.1, channels: { i: { rms: 1, frequency: 50 } } };
const one: Timeline = { wiring: { i }, segments: [state] };
const other: Timeline = {
  wiring: { v },
  segments: [{ ...state, name: "other", channels: { v: { rms: 2, frequency: 60 } } }],
};

describe("joinTimelines", () => {
  test("has the states of all parts in their order, and the time of all of them", () => {
    holds(
      fc.property(fc.array(timelines, { minLength: 1, maxLength: 4 }), (parts) => {
        const joined = joinTimelines(...parts);
        expect(joined.segments).toEqual(parts.flatMap(({ segments }) => segments));
        const thousandths = parts.reduce((sum, part) => sum + Math.round(totalTime(part) * 1000), 0);
        expect(totalTime(joined)).toBe(thousandths / 1000);
      }),
      50,
    );
  });

  test("of one timeline is that timeline", () => {
    expect(joinTimelines(one)).toEqual(one);
  });

  test("has the channels of all parts; one that a part does not know is off there", () => {
    const joined = joinTimelines(one, other);
    expect(joined.wiring).toEqual({ i, v });
    expect(stateAt(joined, 0.15).channels).toMatchObject({ i: { rms: 0 }, v: { rms: 2 } });
  });

  test("the same channel may be wired the same way, in whatever order it is written", () => {
    const feeds = { ib: -0.5, ia: 1 };
    expect(joinTimelines(one, { ...one, wiring: { i: { feeds, quantity: "current" } } }).segments).toHaveLength(2);
  });

  test.each([
    ["as another quantity", { ...i, quantity: "voltage" }],
    ["with another factor", { ...i, feeds: { ia: 1, ib: 0.5 } }],
    ["to one input more", { ...i, feeds: { ...i.feeds, ic: 1 } }],
    ["to one input less", { ...i, feeds: { ia: 1 } }],
    ["to another input", { ...i, feeds: { ia: 1, ic: -0.5 } }],
  ])("a channel wired %s is refused with its path", (_, channel) => {
    const wired = { ...one, wiring: { i: channel } } as Timeline;
    expect(problemsOf(() => joinTimelines(one, wired))).toMatchObject([
      { code: "conflict", path: "timelines[1].wiring.i" },
    ]);
    expect(problemsOf(() => joinTimelines(one, other, wired))).toMatchObject([{ path: "timelines[2].wiring.i" }]);
  });

  test.each([
    ["no timeline", [], "wrong-length", "timelines"],
    ["nothing", [undefined], "missing", "timelines[0]"],
    ["null", [one, null], "wrong-type", "timelines[1]"],
    ["text", [one, "two"], "wrong-type", "timelines[1]"],
    ["a list of timelines", [[one, one]], "wrong-type", "timelines[0]"],
    ["a part that is not valid", [one, { wiring: { i }, segments: [] }], "wrong-length", "timelines[1].segments"],
  ])("%s is refused with its path", (_, parts, code, path) => {
    expect(problemsOf(() => joinTimelines(...(parts as never[])))).toMatchObject([{ code, path }]);
  });

  test("100,000 states are many, one more is too many", () => {
    const half: Timeline = { ...one, segments: Array.from({ length: 50_000 }, () => state) };
    expect(joinTimelines(half, half).segments).toHaveLength(100_000);
    expect(problemsOf(() => joinTimelines(half, half, one))).toMatchObject([
      { code: "too-many", path: "timelines", received: '"100001 states"' },
    ]);
  });
});

describe("repeatTimeline", () => {
  test("is the sequence so many times, with rest between and not after", () => {
    holds(
      fc.property(timelines, fc.integer({ min: 1, max: 6 }), (timeline, times) => {
        const rest = { duration: 0.25, channels: { v: { rms: 1, frequency: 50 } } };
        const between = { name: "rest", ...rest };
        const parts = Array.from({ length: times }, (_, n) =>
          n === 0 ? timeline.segments : [between, ...timeline.segments],
        );
        expect(repeatTimeline(timeline, { times, rest })).toEqual({ wiring: timeline.wiring, segments: parts.flat() });
        const copies = Array.from({ length: times }, () => timeline);
        expect(repeatTimeline(timeline, { times })).toEqual(joinTimelines(...copies));
      }),
      50,
    );
  });

  test("rests with everything off where nothing is said", () => {
    const twice = repeatTimeline(one, { times: 2, rest: { duration: 5 } });
    expect(twice.segments[1]).toEqual({ name: "rest", duration: 5, channels: {} });
    expect(totalTime(twice)).toBe(5.2);
  });

  test.each([
    ["no times", { times: 0 }, "out-of-range", "times"],
    ["half a time", { times: 1.5 }, "out-of-range", "times"],
    ["text", { times: "2" }, "wrong-type", "times"],
    ["no number", { times: Number.NaN }, "not-finite", "times"],
    ["nothing", undefined, "missing", ""],
    ["a number", 3, "wrong-type", ""],
    ["a misspelt key", { times: 2, pause: 1 }, "unknown-key", "pause"],
    ["a rest that is nothing", { times: 2, rest: null }, "wrong-type", "rest"],
    ["a rest of no time", { times: 2, rest: { duration: 0 } }, "out-of-range", "rest.duration"],
    ["a rest that is a number", { times: 2, rest: 3 }, "wrong-type", "rest"],
    ["a rest with keys of its own", { times: 2, rest: { duration: 1, clock: "starts" } }, "unknown-key", "rest.clock"],
    [
      "a rest on an unwired channel",
      { times: 2, rest: { duration: 1, channels: { w: { rms: 1, frequency: 50 } } } },
      "unknown-name",
      "rest.channels.w",
    ],
    [
      "a rest with a negative current",
      { times: 2, rest: { duration: 1, channels: { i: { rms: -1, frequency: 50 } } } },
      "out-of-range",
      "rest.channels.i.rms",
    ],
    ["a million times", { times: 1e6 }, "out-of-range", "times"],
  ])("%s is refused with its path", (_, repetition, code, path) => {
    expect(problemsOf(() => repeatTimeline(one, repetition as never))).toMatchObject([{ code, path }]);
  });

  test("100,000 states are many, one more is too many, and the count is said", () => {
    const two = joinTimelines(one, one);
    expect(repeatTimeline(two, { times: 50_000 }).segments).toHaveLength(100_000);
    expect(repeatTimeline(one, { times: 50_000, rest: { duration: 1 } }).segments).toHaveLength(99_999);
    expect(problemsOf(() => repeatTimeline(two, { times: 33_334, rest: { duration: 1 } }))).toMatchObject([
      { code: "too-many", path: "times", received: '"100001 states"' },
    ]);
  });

  test("a timeline that is not valid is refused", () => {
    expect(problemsOf(() => repeatTimeline(null as never, { times: 1 }))).toMatchObject([{ path: "" }]);
  });
});
