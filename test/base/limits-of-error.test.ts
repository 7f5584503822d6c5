/** Limits of error as rectangles: a/√3, JCGM 100:2008 4.3.7. */
import { expect, test } from "vitest";
import { standardOfLimits } from "../../src/base/limits-of-error.js";

test.each([
  ["both sides", { nominal: 10, low: 9.7, high: 10.3 }, 0.3],
  ["the farther side counts", { nominal: 10, low: 9.9, high: 10.3 }, 0.3],
  ["also below", { nominal: 10, low: 9.6, high: 10.3 }, 0.4],
  ["one side alone", { nominal: 0.5, high: 0.54 }, 0.04],
  ["none at all", { nominal: 0.5 }, 0],
  // In doubles 0.4 - 0.3 is 0.10000000000000003.
  ["the distance is exact", { nominal: 0.3, low: 0.2, high: 0.4 }, 0.1],
])("%s", (_, band, half) => {
  expect(standardOfLimits(band)).toBe(half / Math.sqrt(3));
});
