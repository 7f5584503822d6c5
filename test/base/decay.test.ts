import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addDecay } from "../../src/base/decay.js";
import { holds } from "../support/holds.js";
import { exactly } from "./reference.js";
import { spread } from "./spread.js";
import { placesIn, share } from "./tones.js";

const initials = spread(-1000, 1000);
/** Time constants from a tenth of a sample to a million of them. */
const rates = spread(-6, 1).map((exponent) => -(10 ** exponent));

describe("an exponential along a sample clock", () => {
  test("is within 2e-14 of its initial value", () => {
    const counts = fc.integer({ min: 1, max: 10_000 });
    holds(
      fc.property(initials, rates, counts, fc.nat(), (initial, rate, count, any) => {
        const out = new Float64Array(count);
        addDecay(out, { initial, rate });
        for (const n of [63, ...placesIn(count, any)].filter((n) => n < count)) {
          const reference = exactly(rate).times(n).exp().times(exactly(initial));
          expect(share(out[n], reference, Math.abs(initial))).toBeLessThanOrEqual(2e-14);
        }
      }),
      40,
    );
  });

  test("is added to what is there", () => {
    const out = Float64Array.of(1, 2, 3);
    addDecay(out, { initial: 8, rate: -Math.LN2 });
    expect(Array.from(out)).toEqual([9, expect.closeTo(6, 14), expect.closeTo(5, 14)]);
  });
});
