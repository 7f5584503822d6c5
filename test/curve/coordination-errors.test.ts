/** coordinationMargin and what it refuses. */
import { coordinationMargin, type SeriesRelay, type TwoRelays } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { very } from "./two-relays.js";

describe("bad input is refused with its place", () => {
  const two: TwoRelays = { upstream: very(600, 1), downstream: very(400, 1), currents: [1000] };
  const table: SeriesRelay = {
    setting: {
      curve: {
        form: "table",
        points: [
          { multiple: 2, time: 10 },
          { multiple: 5, time: 2 },
        ],
      },
    },
    pickup: 600,
  };
  test.each([
    [
      "an under function",
      { upstream: { ...very(600, 1), setting: { curve: "undervoltage-inverse" } } },
      "upstream.setting.curve",
    ],
    ["a bad setting", { downstream: very(400, 0) }, "downstream.setting.multiplier"],
    ["no upstream relay", { upstream: undefined }, "upstream"],
    ["a pickup of 0 A", { downstream: very(0, 1) }, "downstream.pickup"],
    [
      "a current transformer without secondary",
      { upstream: { ...very(5, 1), ct: { primary: 600 } } },
      "upstream.ct.secondary",
    ],
    [
      "a current transformer of 0 A",
      { upstream: { ...very(5, 1), ct: { primary: 0, secondary: 5 } } },
      "upstream.ct.primary",
    ],
    ["a misspelt key of a relay", { upstream: { ...very(5, 1), CT: {} } }, "upstream.CT"],
    ["a misspelt key", { require: 0.3 }, "require"],
    ["no currents", { currents: [] }, "currents"],
    ["a current of 0 A", { currents: [1000, 0] }, "currents[1]"],
    ["a range that is none", { currents: { from: 2000, to: 1000 } }, "currents.to"],
    ["a current outside a table", { upstream: table, currents: [1000] }, "currents[0]"],
    ["a required margin below 0 s", { required: -1 }, "required"],
    ["an allowance that does not exist", { required: { breaker: 0.1 } }, "required.breaker"],
    [
      "a negative relay error",
      { required: { relayErrorsPercent: { upstream: -1 } } },
      "required.relayErrorsPercent.upstream",
    ],
  ])("%s", (_what, change, path) => {
    const given = { ...two, ...change } as TwoRelays;
    expect(problemsOf(() => coordinationMargin(given)).map((problem) => problem.path)).toEqual([path]);
  });

  test("outside a table the current that was asked is told, not its multiple", () => {
    const told = { code: "out-of-range", expected: "a current in A in the table of upstream" };
    const of = (currents: TwoRelays["currents"]) =>
      problemsOf(() => coordinationMargin({ ...two, upstream: table, currents }));
    expect(of([2000, 3600])).toMatchObject([{ ...told, path: "currents[1]", received: "3600" }]);
    expect(of({ from: 2000, to: 3600 })).toMatchObject([{ ...told, path: "currents" }]);
    expect(coordinationMargin({ ...two, upstream: table, currents: [1200, 3000] }).points).toHaveLength(2);
  });
});
