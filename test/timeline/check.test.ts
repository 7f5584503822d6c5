import { type ChannelState, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const wiring = { i: { quantity: "current", feeds: { ia: 1 } } };
const still: ChannelState = { rms: 4, frequency: 50 };
const state = { name: "held", duration: 2, channels: { i: still } };

/** A timeline whose second state is changed. */
const second = (change: object) => ({ wiring, segments: [state, { ...state, ...change }] });
const channel = (change: object) => second({ channels: { i: { ...still, ...change } } });

describe("a timeline", () => {
  test.each([
    ["that is no object", 3, "wrong-type", "timeline"],
    ["that is missing", undefined, "missing", "timeline"],
    ["without states", { wiring, segments: [] }, "wrong-length", "timeline.segments"],
    ["with its states missing", { wiring }, "missing", "timeline.segments"],
    ["with a state of no duration", second({ duration: 0 }), "out-of-range", "timeline.segments[1].duration"],
    ["with an endless state", second({ duration: 1 / 0 }), "not-finite", "timeline.segments[1].duration"],
    ["with a state that is text", { wiring, segments: ["held"] }, "wrong-type", "timeline.segments[0]"],
    ["with a negative current", channel({ rms: -4 }), "out-of-range", "timeline.segments[1].channels.i.rms"],
    ["with a typed frequency", channel({ frequency: "50" }), "wrong-type", "timeline.segments[1].channels.i.frequency"],
    [
      "with a negative frequency",
      channel({ frequency: -1 }),
      "out-of-range",
      "timeline.segments[1].channels.i.frequency",
    ],
    [
      "with an angle that is no number",
      channel({ angle: Number.NaN }),
      "not-finite",
      "timeline.segments[1].channels.i.angle",
    ],
    [
      "with a slope that is no number",
      channel({ slope: { frequency: Number.NaN } }),
      "not-finite",
      "timeline.segments[1].channels.i.slope.frequency",
    ],
    [
      "with a current that would end below 0",
      channel({ slope: { rms: -2.001 } }),
      "out-of-range",
      "timeline.segments[1].channels.i.slope.rms",
    ],
    [
      "with a frequency that would end below 0",
      channel({ slope: { frequency: -26 } }),
      "out-of-range",
      "timeline.segments[1].channels.i.slope.frequency",
    ],
    [
      "with a state on an unwired channel",
      second({ channels: { v: still } }),
      "unknown-name",
      "timeline.segments[1].channels.v",
    ],
    [
      "that ends on no way a contact moves",
      second({ endsOn: { contact: "trip", to: "up" } }),
      "unknown-name",
      "timeline.segments[1].endsOn.to",
    ],
    ["without wiring", { segments: [state] }, "missing", "timeline.wiring"],
    [
      "with a channel of power",
      { wiring: { i: { quantity: "power", feeds: {} } }, segments: [state] },
      "unknown-name",
      "timeline.wiring.i.quantity",
    ],
    [
      "with a factor that is no number",
      { wiring: { i: { quantity: "current", feeds: { ia: Number.NaN } } }, segments: [state] },
      "not-finite",
      "timeline.wiring.i.feeds.ia",
    ],
  ])("%s is refused with the path of what is wrong", (_, timeline, code, path) => {
    expect(problemsOf(() => totalTime(timeline as never))).toMatchObject([{ code, path }]);
  });

  test("may move down to exactly 0, and angles may move either way", () => {
    expect(totalTime(channel({ slope: { rms: -2, frequency: -25, angle: -720 } }) as never)).toBe(4);
  });

  test("a name that objects have from birth is no wired channel", () => {
    const timeline = second({ channels: { constructor: still } });
    expect(problemsOf(() => totalTime(timeline as never))).toMatchObject([{ code: "unknown-name" }]);
  });
});
