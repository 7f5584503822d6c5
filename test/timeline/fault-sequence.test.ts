import { faultSequence, stateAt, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const before = { i: { rms: 1, frequency: 50 } };
const fault = { i: { rms: 20, frequency: 50, angle: -60 } };
const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
const sequence = { before, fault, settleFor: 2, giveUpAfter: 1.5, wiring };

describe("faultSequence", () => {
  test("is the healthy state, then the fault, and the clock runs from the fault alone", () => {
    expect(faultSequence(sequence)).toEqual({
      wiring,
      segments: [
        { name: "pre-fault", duration: 2, channels: before },
        { name: "fault", duration: 1.5, clock: "starts", channels: fault },
      ],
    });
  });

  test("the contact ends the fault, and no other state", () => {
    const endsOn = { contact: "trip", to: "closed" } as const;
    const afterwards = { channels: {}, duration: 0.5 };
    const { segments } = faultSequence({ ...sequence, endsOn, afterwards });
    expect(segments.map((segment) => segment.endsOn)).toEqual([undefined, endsOn, undefined]);
  });

  test("without a contact no state has an end of its own, not even an empty one", () => {
    for (const segment of faultSequence(sequence).segments) expect(Object.keys(segment)).not.toContain("endsOn");
  });

  test("what follows the fault follows it, without a clock", () => {
    const timeline = faultSequence({ ...sequence, afterwards: { channels: before, duration: 0.25 } });
    expect(timeline.segments[2]).toEqual({ name: "afterwards", duration: 0.25, channels: before });
    expect(totalTime(timeline)).toBe(3.75);
    expect([1.9, 2, 3.4, 3.5].map((t) => stateAt(timeline, t).channels["i"]!.rms)).toEqual([1, 20, 20, 1]);
  });

  test("the inputs are left as they are", () => {
    const copy = structuredClone(sequence);
    faultSequence(sequence);
    expect(sequence).toEqual(copy);
  });

  test.each([
    ["settling for no time", { settleFor: 0 }, "out-of-range", "settleFor"],
    ["giving up before the fault", { giveUpAfter: -1 }, "out-of-range", "giveUpAfter"],
    ["a time that is not finite", { giveUpAfter: Number.NaN }, "not-finite", "giveUpAfter"],
    ["a missing time", { settleFor: undefined }, "missing", "settleFor"],
    ["a negative current", { fault: { i: { rms: -1, frequency: 50 } } }, "out-of-range", "fault.i.rms"],
    [
      "a current that falls below nothing",
      { fault: { i: { rms: 1, frequency: 50, slope: { rms: -100 } } } },
      "out-of-range",
      "fault.i.slope.rms",
    ],
    ["a missing frequency", { before: { i: { rms: 1 } } }, "missing", "before.i.frequency"],
    ["a state on an unwired channel", { fault: { v: before.i } }, "unknown-name", "fault.v"],
    ["an unknown way to end", { endsOn: { contact: "trip", to: "shut" } }, "unknown-name", "endsOn.to"],
    ["no time afterwards", { afterwards: { channels: {}, duration: 0 } }, "out-of-range", "afterwards.duration"],
    ["afterwards without channels", { afterwards: { duration: 1 } }, "missing", "afterwards.channels"],
    ["a missing fault", { fault: undefined }, "missing", "fault"],
    ["a misspelt key", { settlefor: 2 }, "unknown-key", "settlefor"],
  ])("%s is refused with its path", (_, change, code, path) => {
    expect(problemsOf(() => faultSequence({ ...sequence, ...change } as never))).toMatchObject([{ code, path }]);
  });
});
