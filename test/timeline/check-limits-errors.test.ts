import { checkInput, checkSource, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { held, wiring } from "./sources.js";

const timeline = held([1, 5]);

describe.each([
  ["checkSource", checkSource],
  ["checkInput", checkInput],
] as const)("%s", (_name, check) => {
  test.each([
    ["no timeline", undefined, "missing", ""],
    ["a timeline that is null", null, "wrong-type", ""],
    ["a timeline that is text", "5 A", "wrong-type", ""],
    ["a timeline without states", { wiring, segments: [] }, "wrong-length", "segments"],
    ["a state without an end", held([1 / 0, 5]), "not-finite", "segments[0].duration"],
    ["a current that is no number", held([1, Number.NaN]), "not-finite", "segments[0].channels.i.rms"],
  ])("refuses %s", (_, wrong, code, path) => {
    expect(problemsOf(() => check(wrong as never, {}))).toMatchObject([{ code, path }]);
  });

  test.each([
    ["nothing", undefined, "missing", ""],
    ["null", null, "wrong-type", ""],
    ["a number", 20, "wrong-type", ""],
    ["a list", [], "wrong-type", ""],
    ["a misspelt quantity", { curent: {} }, "unknown-key", "curent"],
    ["a quantity that is null", { current: null }, "wrong-type", "current"],
    ["a quantity that is a number", { voltage: 150 }, "wrong-type", "voltage"],
    ["a misspelt limit", { current: { mrs: 20 } }, "unknown-key", "current.mrs"],
  ])("refuses %s for limits", (_, wrong, code, path) => {
    expect(problemsOf(() => check(timeline, wrong as never))).toMatchObject([{ code, path }]);
  });

  test.each([
    ["a negative peak", -1, "out-of-range"],
    ["no peak at all", 0, "out-of-range"],
    ["a peak without end", 1 / 0, "not-finite"],
    ["a peak that is no number", Number.NaN, "not-finite"],
    ["text that is no number", "20 A", "unreadable"],
    ["a decimal comma", "20,5", "decimal-comma"],
    ["null", null, "wrong-type"],
    ["a list", [20], "wrong-type"],
    ["a yes", true, "wrong-type"],
  ])("refuses %s, of a quantity and of a single one", (_, peak, code) => {
    expect(problemsOf(() => check(timeline, { current: { peak } } as never))).toMatchObject([
      { code, path: "current.peak" },
    ]);
    const place = check === checkSource ? "channels" : "inputs";
    const single = { [place]: { "a b": { peak } } };
    expect(problemsOf(() => check(timeline, single as never))).toMatchObject([{ code, path: `${place}.a b.peak` }]);
  });

  test("refuses amounts that no double holds", () => {
    const high = held([1, 1e200]);
    const limits = check === checkSource ? { burden: 1, power: 1 } : { shortTime: { value: 1, time: 1 } };
    expect(problemsOf(() => check(high, { current: limits } as never))).toMatchObject([{ code: "out-of-range" }]);
  });

  test("reads text and decimal objects exactly, and knows names that objects have from birth", () => {
    const decimal = { toFixed: () => "7.1" };
    const rating = check === checkSource ? { current: { rms: decimal } } : { current: { continuous: decimal } };
    expect(check(timeline, rating as never).exceedances).toEqual([]);
    const strange: Timeline = {
      wiring: Object.fromEntries([
        ["constructor", wiring.i],
        ["i", wiring.i],
      ]),
      segments: [{ name: "a", duration: 1, channels: { i: { rms: 1, frequency: 50 } } }],
    };
    expect(check(strange, rating as never).exceedances).toEqual([]);
  });
});

describe("limits of a source", () => {
  test.each([
    ["a burden of nothing", { burden: 0 }, "out-of-range", "current.burden"],
    ["power that is text", { power: "much" }, "unreadable", "current.power"],
    ["compliance below 0", { compliance: -1 }, "out-of-range", "current.compliance"],
    ["a duty that is no list", { duty: { above: 1, atMost: 1 } }, "wrong-type", "current.duty"],
    ["a duty that is null", { duty: [null] }, "wrong-type", "current.duty[0]"],
    ["a hole in a list of duties", { duty: new Array(1) }, "missing", "current.duty[0]"],
    ["a misspelt duty", { duty: [{ above: 1, atMost: 1, pause: 1 }] }, "unknown-key", "current.duty[0].pause"],
    ["a duty without a level", { duty: [{ atMost: 1 }] }, "missing", "current.duty[0].above"],
    ["a duty without a time", { duty: [{ above: 1 }] }, "missing", "current.duty[0].atMost"],
    ["a rest below 0 s", { duty: [{ above: 1, atMost: 1, restTime: -1 }] }, "out-of-range", "current.duty[0].restTime"],
    ["a range that is a number", { frequency: 50 }, "wrong-type", "current.frequency"],
    ["a range without a maximum", { frequency: { minimum: 40 } }, "missing", "current.frequency.maximum"],
    ["a range without a minimum", { frequency: { maximum: 40 } }, "missing", "current.frequency.minimum"],
    ["a range from below 0", { frequency: { minimum: -1, maximum: 40 } }, "out-of-range", "current.frequency.minimum"],
    ["a range upside down", { frequency: { minimum: 60, maximum: 40 } }, "out-of-range", "current.frequency.maximum"],
    ["a misspelt end", { frequency: { min: 40, maximum: 60 } }, "unknown-key", "current.frequency.min"],
    ["steps that are a number", { resolution: 0.01 }, "wrong-type", "current.resolution"],
    ["a step of nothing", { resolution: { rms: 0 } }, "out-of-range", "current.resolution.rms"],
    ["a misspelt step", { resolution: { phase: 1 } }, "unknown-key", "current.resolution.phase"],
  ])("refuses %s", (_, current, code, path) => {
    expect(problemsOf(() => checkSource(timeline, { current } as never))).toMatchObject([{ code, path }]);
  });

  test.each([
    ["voltages", { voltage: { compliance: 10 } }, "voltage.compliance"],
    ["a channel of voltage", { channels: { v: { compliance: 10 } } }, "channels.v.compliance"],
  ])("refuse a compliance voltage of %s", (_, limits, path) => {
    expect(problemsOf(() => checkSource(timeline, limits as never))).toMatchObject([{ code: "not-applicable", path }]);
  });

  test.each([
    ["null", null],
    ["a list", []],
    ["text", "i"],
  ])("refuse %s in place of channels by name", (_, channels) => {
    expect(problemsOf(() => checkSource(timeline, { channels } as never))).toMatchObject([{ path: "channels" }]);
  });
});

describe("what a limit was to be is told with its unit:", () => {
  const duty = { above: 1, atMost: 1 };
  test.each([
    [{ rms: 0 }, "rms", "a limit above 0 A or V"],
    [{ power: 0 }, "power", "a limit above 0 VA"],
    [{ burden: 0 }, "burden", "a burden above 0 ohm"],
    [{ compliance: 0 }, "compliance", "a limit above 0 V"],
    [{ duty: [{ ...duty, above: 0 }] }, "duty[0].above", "a level above 0 A or V"],
    [{ duty: [{ ...duty, atMost: 0 }] }, "duty[0].atMost", "a time above 0 s"],
    [{ duty: [{ ...duty, restTime: -1 }] }, "duty[0].restTime", "a time of 0 s or more"],
    [{ frequency: { minimum: -1, maximum: 60 } }, "frequency.minimum", "a frequency of 0 Hz or more"],
    [{ resolution: { rms: 0 } }, "resolution.rms", "a step above 0 A or V"],
    [{ resolution: { frequency: 0 } }, "resolution.frequency", "a step above 0 Hz"],
    [{ resolution: { angle: 0 } }, "resolution.angle", "a step above 0 °"],
  ])("%j of a source", (current, path, expected) => {
    const problems = problemsOf(() => checkSource(timeline, { current } as never));
    expect(problems).toMatchObject([{ code: "out-of-range", path: `current.${path}`, expected }]);
  });

  test.each([
    [{ continuous: 0 }, "continuous", "a value above 0 A or V"],
    [{ tau: 0 }, "tau", "a time constant above 0 s"],
    [{ peak: 0 }, "peak", "a value above 0 A or V"],
    [{ shortTime: { value: 0, time: 1 } }, "shortTime.value", "a value above 0 A or V"],
    [{ shortTime: { value: 1, time: 0 } }, "shortTime.time", "a time above 0 s"],
  ])("%j of an input", (current, path, expected) => {
    const problems = problemsOf(() => checkInput(timeline, { current } as never));
    expect(problems).toMatchObject([{ code: "out-of-range", path: `current.${path}`, expected }]);
  });
});

describe("a rating of inputs", () => {
  test.each([
    ["nothing that may stand for ever", { continuous: 0 }, "out-of-range", "current.continuous"],
    ["a time constant below 0", { tau: -1 }, "out-of-range", "current.tau"],
    ["a short time that is a number", { shortTime: 500 }, "wrong-type", "current.shortTime"],
    ["a short time without a time", { shortTime: { value: 500 } }, "missing", "current.shortTime.time"],
    ["a short time without a value", { shortTime: { time: 1 } }, "missing", "current.shortTime.value"],
    ["a time of 0 s", { shortTime: { value: 500, time: 0 } }, "out-of-range", "current.shortTime.time"],
    ["a misspelt short time", { shortTime: { current: 500, time: 1 } }, "unknown-key", "current.shortTime.current"],
    [
      "less for a short time than for ever",
      { continuous: 20, shortTime: { value: 19, time: 1 } },
      "conflict",
      "current.shortTime.value",
    ],
  ])("refuses %s", (_, current, code, path) => {
    expect(problemsOf(() => checkInput(timeline, { current } as never))).toMatchObject([{ code, path }]);
  });

  test("refuses an input that is fed by a voltage and a current", () => {
    const mixed: Timeline = {
      wiring: { i: { quantity: "current", feeds: { ia: 1 } }, v: { quantity: "voltage", feeds: { ia: 1 } } },
      segments: timeline.segments,
    };
    expect(problemsOf(() => checkInput(mixed, {}))).toMatchObject([{ code: "conflict", path: "wiring.v.feeds.ia" }]);
  });
});
