import { faultSequence, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { event, wiring } from "./walks.js";

const timeline = faultSequence({
  before: { i: { rms: 1, frequency: 50 } },
  fault: { i: { rms: 20, frequency: 50 } },
  settleFor: 2,
  giveUpAfter: 1.5,
  wiring,
});
const closes = event("trip", 2.5);
const threshold = { channel: "i", quantity: "rms", level: 4 };

describe("walk", () => {
  test.each([
    ["no timeline", undefined, "missing", ""],
    ["a timeline that is null", null, "wrong-type", ""],
    ["a timeline that is not valid", { ...timeline, segments: [] }, "wrong-length", "segments"],
  ])("refuses %s", (_, wrong, code, path) => {
    expect(problemsOf(() => walk(wrong as never, []))).toMatchObject([{ code, path }]);
  });

  test.each([
    ["no events", undefined, "missing", "contactEvents"],
    ["events that are null", null, "wrong-type", "contactEvents"],
    ["events that are text", "trip", "wrong-type", "contactEvents"],
    ["an event that is no list", closes, "wrong-type", "contactEvents"],
    ["an event that is null", [closes, null], "wrong-type", "contactEvents[1]"],
    ["a hole in the list", new Array(1), "missing", "contactEvents[0]"],
    ["an event that is a number", [2.5], "wrong-type", "contactEvents[0]"],
    ["an event of no contact", [{ ...closes, contact: undefined }], "missing", "contactEvents[0].contact"],
    ["a contact that is a number", [{ ...closes, contact: 1 }], "wrong-type", "contactEvents[0].contact"],
    ["an unknown change", [closes, { ...closes, to: "made" }], "unknown-name", "contactEvents[1].to"],
    ["no change", [{ ...closes, to: undefined }], "unknown-name", "contactEvents[0].to"],
    ["no instant", [{ ...closes, at: undefined }], "missing", "contactEvents[0].at"],
    ["an instant that is text", [{ ...closes, at: "2.5" }], "wrong-type", "contactEvents[0].at"],
    ["an instant that is no number", [{ ...closes, at: Number.NaN }], "not-finite", "contactEvents[0].at"],
    ["an instant that never comes", [{ ...closes, at: 1 / 0 }], "not-finite", "contactEvents[0].at"],
  ])("refuses %s", (_, events, code, path) => {
    expect(problemsOf(() => walk(timeline, events as never))).toMatchObject([{ code, path }]);
  });

  test.each([
    ["options that are null", null, "wrong-type", ""],
    ["options that are a number", 0.005, "wrong-type", ""],
    ["a misspelt option", { debouce: 0.005 }, "unknown-key", "debouce"],
    ["a negative debounce time", { debounce: -0.001 }, "out-of-range", "debounce"],
    ["a debounce time that is text", { debounce: "5 ms" }, "wrong-type", "debounce"],
    ["a debounce time without end", { debounce: 1 / 0 }, "not-finite", "debounce"],
    ["a threshold that is null", { threshold: null }, "wrong-type", "threshold"],
    ["a misspelt threshold", { threshold: { ...threshold, value: 4 } }, "unknown-key", "threshold.value"],
    ["a threshold on no channel", { threshold: { ...threshold, channel: "v" } }, "unknown-name", "threshold.channel"],
    [
      "a threshold on a channel from birth",
      { threshold: { ...threshold, channel: "toString" } },
      "unknown-name",
      "threshold.channel",
    ],
    ["a threshold of power", { threshold: { ...threshold, quantity: "power" } }, "unknown-name", "threshold.quantity"],
    ["a threshold at no level", { threshold: { channel: "i", quantity: "rms" } }, "missing", "threshold.level"],
    ["a threshold at NaN", { threshold: { ...threshold, level: Number.NaN } }, "not-finite", "threshold.level"],
    [
      "a threshold that goes sideways",
      { threshold: { ...threshold, direction: "up" } },
      "unknown-name",
      "threshold.direction",
    ],
    ["an operation that is null", { operation: null }, "wrong-type", "operation"],
    ["an operation that is text", { operation: "trip" }, "wrong-type", "operation"],
    ["a misspelt operation", { operation: { contakt: "trip" } }, "unknown-key", "operation.contakt"],
    ["an operation of a number", { operation: { contact: 3 } }, "wrong-type", "operation.contact"],
    ["an operation of no known way", { operation: { to: "made" } }, "unknown-name", "operation.to"],
  ])("refuses %s", (_, how, code, path) => {
    expect(problemsOf(() => walk(timeline, [closes], how as never))).toMatchObject([{ code, path }]);
  });

  test("lets events carry more than it asks for, and gives them back as they came", () => {
    const seen = { ...closes, seenBy: "input 3" };
    expect(walk(timeline, [seen]).operatedOn).toEqual(seen);
  });

  test("leaves nothing that JSON would lose", () => {
    const walked = walk(timeline, [event("trip", -1, "open"), closes, event("start", 9)], {
      threshold: threshold as never,
    });
    expect(JSON.parse(JSON.stringify(walked))).toEqual(walked);
    const quiet = walk(timeline, []);
    expect(JSON.parse(JSON.stringify(quiet))).toEqual(quiet);
  });
});
