import { type ChannelState, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const wiring = { i: { quantity: "current", feeds: { ia: 1 } } };
const still: ChannelState = { rms: 4, frequency: 50 };
const state = { name: "held", duration: 2, channels: { i: still } };

const STATE = "a channel state such as { rms: 4, frequency: 50 }";
const CHANNEL = "a channel { quantity, feeds }";

/** A timeline whose second state is changed. */
const second = (change: object) => ({ wiring, segments: [state, { ...state, ...change }] });
const channel = (change: object) => second({ channels: { i: { ...still, ...change } } });

describe("a timeline", () => {
  test.each([
    ["that is no object", 3, "wrong-type", ""],
    ["that is missing", undefined, "missing", ""],
    ["without states", { wiring, segments: [] }, "wrong-length", "segments"],
    ["with its states missing", { wiring }, "missing", "segments"],
    ["with a state of no duration", second({ duration: 0 }), "out-of-range", "segments[1].duration"],
    ["with an endless state", second({ duration: 1 / 0 }), "not-finite", "segments[1].duration"],
    ["with a state that is text", { wiring, segments: ["held"] }, "wrong-type", "segments[0]"],
    ["with a negative current", channel({ rms: -4 }), "out-of-range", "segments[1].channels.i.rms"],
    ["with a typed frequency", channel({ frequency: "50" }), "wrong-type", "segments[1].channels.i.frequency"],
    ["with a negative frequency", channel({ frequency: -1 }), "out-of-range", "segments[1].channels.i.frequency"],
    ["with an angle that is no number", channel({ angle: Number.NaN }), "not-finite", "segments[1].channels.i.angle"],
    [
      "with a slope that is no number",
      channel({ slope: { frequency: Number.NaN } }),
      "not-finite",
      "segments[1].channels.i.slope.frequency",
    ],
    [
      "with a current that would end below 0",
      channel({ slope: { rms: -2.001 } }),
      "out-of-range",
      "segments[1].channels.i.slope.rms",
    ],
    [
      "with a frequency that would end below 0",
      channel({ slope: { frequency: -26 } }),
      "out-of-range",
      "segments[1].channels.i.slope.frequency",
    ],
    [
      "with a state on an unwired channel",
      second({ channels: { v: still } }),
      "unknown-name",
      "segments[1].channels.v",
    ],
    [
      "that ends on no way a contact moves",
      second({ endsOn: { contact: "trip", to: "up" } }),
      "unknown-name",
      "segments[1].endsOn.to",
    ],
    ["with a state without a name", second({ name: undefined }), "missing", "segments[1].name"],
    ["with a state named by a number", second({ name: 2 }), "wrong-type", "segments[1].name"],
    ["with a clock that stops", second({ clock: "stops" }), "unknown-name", "segments[1].clock"],
    ["that ends on no contact", second({ endsOn: { to: "closed" } }), "missing", "segments[1].endsOn.contact"],
    ["with a decay that is a number", channel({ decay: 3 }), "wrong-type", "segments[1].channels.i.decay"],
    [
      "with a decay that takes no time",
      channel({ decay: { initial: 1, tau: 0 } }),
      "out-of-range",
      "segments[1].channels.i.decay.tau",
    ],
    [
      "with an endless decay",
      channel({ decay: { initial: 1, tau: 1 / 0 } }),
      "not-finite",
      "segments[1].channels.i.decay.tau",
    ],
    ["with a decay from no value", channel({ decay: { tau: 1 } }), "missing", "segments[1].channels.i.decay.initial"],
    [
      "with a decay from NaN",
      channel({ decay: { initial: Number.NaN, tau: 1 } }),
      "not-finite",
      "segments[1].channels.i.decay.initial",
    ],
    [
      "with harmonics that are no list",
      channel({ harmonics: { order: 2, rms: 1 } }),
      "wrong-type",
      "segments[1].channels.i.harmonics",
    ],
    [
      "with a harmonic that is nothing",
      channel({ harmonics: [{ order: 2, rms: 1 }, null] }),
      "wrong-type",
      "segments[1].channels.i.harmonics[1]",
    ],
    [
      "with a first harmonic",
      channel({ harmonics: [{ order: 1, rms: 1 }] }),
      "out-of-range",
      "segments[1].channels.i.harmonics[0].order",
    ],
    [
      "with a negative order",
      channel({ harmonics: [{ order: -2, rms: 1 }] }),
      "out-of-range",
      "segments[1].channels.i.harmonics[0].order",
    ],
    [
      "with half an order",
      channel({ harmonics: [{ order: 2.5, rms: 1 }] }),
      "out-of-range",
      "segments[1].channels.i.harmonics[0].order",
    ],
    [
      "with a harmonic of a typed order",
      channel({ harmonics: [{ order: "2", rms: 1 }] }),
      "wrong-type",
      "segments[1].channels.i.harmonics[0].order",
    ],
    [
      "with a negative harmonic",
      channel({ harmonics: [{ order: 2, rms: -1 }] }),
      "out-of-range",
      "segments[1].channels.i.harmonics[0].rms",
    ],
    [
      "with a harmonic at no angle",
      channel({ harmonics: [{ order: 2, rms: 1, angle: 1 / 0 }] }),
      "not-finite",
      "segments[1].channels.i.harmonics[0].angle",
    ],
    [
      "with the same harmonic twice",
      channel({
        harmonics: [
          { order: 2, rms: 1 },
          { order: 3, rms: 1 },
          { order: 2, rms: 0.5 },
        ],
      }),
      "duplicate",
      "segments[1].channels.i.harmonics[2].order",
    ],
    ["with a hole in its states", { wiring, segments: new Array(2) }, "missing", "segments[0]"],
    ["without wiring", { segments: [state] }, "missing", "wiring"],
    [
      "with a channel of power",
      { wiring: { i: { quantity: "power", feeds: {} } }, segments: [state] },
      "unknown-name",
      "wiring.i.quantity",
    ],
    [
      "with a factor that is no number",
      { wiring: { i: { quantity: "current", feeds: { ia: Number.NaN } } }, segments: [state] },
      "not-finite",
      "wiring.i.feeds.ia",
    ],
  ])("%s is refused with the path of what is wrong", (_, timeline, code, path) => {
    expect(problemsOf(() => totalTime(timeline as never))).toMatchObject([{ code, path }]);
  });

  test.each([
    ["no state", second({ channels: { i: null } }), "segments[1].channels.i", STATE],
    ["a channel that is no channel", { wiring: { i: null }, segments: [state] }, "wiring.i", CHANNEL],
    [
      "feeds that are no object",
      { wiring: { i: { quantity: "current", feeds: null } }, segments: [state] },
      "wiring.i.feeds",
      "relay inputs with their factors, such as { ia: 1 }",
    ],
    [
      "a decay in no time",
      channel({ decay: { initial: 1, tau: 0 } }),
      "segments[1].channels.i.decay.tau",
      "a time constant above 0 s",
    ],
    [
      "a channel that is not wired",
      { wiring: { ...wiring, v: wiring.i }, segments: [{ ...state, channels: { u: still } }] },
      "segments[0].channels.u",
      "one of the wired channels i, v",
    ],
  ])("with %s is told what was expected there", (_, timeline, path, expected) => {
    expect(problemsOf(() => totalTime(timeline as never))).toMatchObject([{ path, expected }]);
  });

  test("of a small current may not end below 0 by more than the rounding of that current", () => {
    // A tenth of a billionth is no rounding of a milliampere, and from 0 nothing may fall at all.
    const falling = (rms: number, end: number) => channel({ rms, slope: { rms: (end - rms) / 2 } }) as never;
    for (const timeline of [falling(1e-3, -1e-10), falling(0, -1e-10)])
      expect(problemsOf(() => totalTime(timeline))).toMatchObject([{ path: "segments[1].channels.i.slope.rms" }]);
    expect(totalTime(falling(1e-3, 0))).toBe(4);
  });

  test("may move down to exactly 0, and angles may move either way", () => {
    expect(totalTime(channel({ slope: { rms: -2, frequency: -25, angle: -720 } }) as never)).toBe(4);
  });

  test("a name that objects have from birth is no wired channel", () => {
    const timeline = second({ channels: { constructor: still } });
    expect(problemsOf(() => totalTime(timeline as never))).toMatchObject([{ code: "unknown-name" }]);
  });
});
