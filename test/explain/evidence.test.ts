/**
 * Relays with a known cause, rehearsed, written down as the cause would have it, and scattered from fixed seeds. The bench
 * prints the whole confusion table with more trials.
 */
import { beforeAll, describe, expect, test } from "vitest";
import { bench, claimsWithoutFault, SCENARIOS, tryOut } from "../bench/explain-trials.js";

const TRIALS = 2;
const SEEDS = [11, 12];

beforeAll(() => {
  for (const name of ["current", "neighbour", "voltage", "direction"] as const) bench(name);
});

describe("a known cause", () => {
  let [right, tried] = [0, 0];

  test.each(SCENARIOS.map((scenario) => [`${scenario.cause} ${scenario.which ?? ""}`.trim(), scenario] as const))(
    "%s leads, alone or with causes that these readings cannot tell from it",
    (_name, scenario) => {
      const own = tryOut(scenario, { trials: TRIALS, seed: SEEDS[0] as number }).right;
      [right, tried] = [right + own, tried + TRIALS];
      expect(own).toBeGreaterThan(0);
    },
  );

  test("in at least 95 % of all trials", () => {
    expect(tried).toBe(TRIALS * SCENARIOS.length);
    expect(right / tried).toBeGreaterThanOrEqual(0.95);
  });
});

test("where nothing is wrong, something is claimed in at most 5 % of trials", () => {
  expect(claimsWithoutFault({ trials: 60, seed: SEEDS[1] as number })).toBeLessThanOrEqual(3);
});

describe("further injections", () => {
  const tied = ["another-curve", "rotation-reversed"];

  test.each(tied)("settle what is tied with %s", (cause) => {
    const scenario = SCENARIOS.findLast((one) => one.cause === cause);
    if (scenario === undefined) throw new Error(cause);
    const { settled, ties } = tryOut(scenario, { trials: TRIALS, seed: SEEDS[1] as number, rounds: 5 });
    expect(ties).toBeGreaterThan(0);
    expect(settled).toBe(TRIALS);
  });
});
