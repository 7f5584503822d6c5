/** The states of sequences written out by hand, by name. */
import { describe, expect, test } from "vitest";
import type { Segment } from "../../src/base/sequence.js";
import { askedState, clockState, levelPlaces, sweepStates } from "../../src/base/states.js";

const states = (...names: string[]) => ({
  segments: names.map((name): Segment => ({ name, duration: 1, channels: {} })),
});
const fault = {
  segments: [...states("healthy").segments, { name: "fault", duration: 2, clock: "starts", channels: {} }],
} as const;

test("a time counts from the state that starts the clock, and an element is asked there, else at the end", () => {
  expect(clockState(fault)?.name).toBe("fault");
  expect(askedState({ segments: [...fault.segments, ...states("behind").segments] })?.name).toBe("fault");
  expect(clockState(states("3 A", "4 A"))).toBeUndefined();
  expect(askedState(states("3 A", "4 A"))?.name).toBe("4 A");
  expect(askedState(states())).toBeUndefined();
});

describe("the levels of a sweep", () => {
  const rest = { level: 0, time: 2 };
  test.each([
    ["settle at the first one", {}, ["settling", "3 A", "4 A", "5 A"], "settling"],
    ["may come after the healthy system", { preFault: 2 }, ["healthy", "settling", "3 A", "4 A", "5 A"], "settling"],
    ["stand between rests", { rest }, ["rest", "3 A", "rest", "4 A", "rest", "5 A", "rest"], undefined],
    [
      "stand between rests behind the healthy system",
      { rest, preFault: 2 },
      ["healthy", "rest", "3 A", "rest", "4 A", "rest", "5 A", "rest"],
      undefined,
    ],
  ])("%s", (_, beside, names, settling) => {
    const found = sweepStates(states(...names), beside);
    expect(found.levels.map(({ name }) => name)).toEqual(["3 A", "4 A", "5 A"]);
    expect(found.settling?.name).toBe(settling);
    const { first, every } = levelPlaces(beside);
    expect([0, 1, 2].map((level) => names[first + level * every])).toEqual(["3 A", "4 A", "5 A"]);
  });
});
