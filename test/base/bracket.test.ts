import fc from "fast-check";
import { expect, test } from "vitest";
import { bottomBetween } from "../../src/base/bracket.js";
import { holds } from "../support/holds.js";

const places = fc.record({
  low: fc.double({ min: -50, max: 0, noNaN: true }),
  width: fc.double({ min: 0.1, max: 100, noNaN: true }),
  share: fc.double({ min: 0, max: 1, noNaN: true }),
  steps: fc.integer({ min: 0, max: 40 }),
});

test("the bottom of a dip lies within half of what the steps leave: 0.618 of the interval each", () => {
  holds(
    fc.property(places, ({ low, width, share, steps }) => {
      const bottom = low + share * width;
      const found = bottomBetween((x) => Math.abs(x - bottom), [low, low + width], { steps });
      const left = width * ((Math.sqrt(5) - 1) / 2) ** steps;
      expect(Math.abs(found - bottom)).toBeLessThanOrEqual(0.5 * left * (1 + 1e-6) + 1e-13);
    }),
  );
});

test("unless it is told, it goes as far as a sharp dip can be told: 3e-13 of the interval", () => {
  expect(Math.abs(bottomBetween((x) => Math.abs(x - Math.E), [0, 10]) - Math.E)).toBeLessThan(3e-12);
});
