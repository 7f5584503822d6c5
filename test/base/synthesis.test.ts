import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cosDegrees } from "../../src/base/degrees.js";
import { divide } from "../../src/base/double-double.js";
import { addTone, fillTone, type Tone } from "../../src/base/synthesis.js";
import { holds } from "../support/holds.js";
import { exactly } from "./reference.js";
import { spread } from "./spread.js";
import { both, cosineAfter, peaks, placesIn, share, steps, turns } from "./tones.js";

const tones: fc.Arbitrary<Tone> = fc.record({ peak: peaks, turn: turns, step: steps });

function filled(tone: Tone, count: number, offset = 0): Float64Array {
  const out = new Float64Array(count).fill(Number.NaN);
  fillTone(out, tone, offset);
  return out;
}

/** peak · cos(360° · (turn + step · n)) at 50 digits. */
const referenceOf = ({ peak, turn, step }: Tone, n: number) =>
  exactly(peak).times(cosineAfter(both(step).times(n).plus(exactly(turn))));

describe("a cosine along a sample clock", () => {
  test("is within 5e-13 of its peak at any frequency, also after many blocks", () => {
    const counts = fc.oneof(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 25_000 }));
    holds(
      fc.property(tones, counts, fc.nat(), (tone, count, any) => {
        const out = filled(tone, count);
        for (const n of placesIn(count, any)) {
          expect(share(out[n], referenceOf(tone, n), tone.peak)).toBeLessThanOrEqual(5e-13);
        }
      }),
      100,
    );
  });

  test("is within 5e-13 of its peak after millions of samples too", () => {
    const count = 6_000_000;
    const out = new Float64Array(count);
    for (const hertz of [16.7, 49.97, 50, 60.03, 987.6]) {
      const tone: Tone = { peak: 1, turn: 0.3, step: divide([hertz, 0], [4_800, 0]) };
      fillTone(out, tone, 0);
      for (const n of [count - 9, count - 5_000, count / 2]) {
        expect(share(out[n], referenceOf(tone, n), 1)).toBeLessThanOrEqual(5e-13);
      }
    }
  });

  test("is right at every place, where the phase is exact in doubles", () => {
    const dyadic = fc.integer({ min: 0, max: 2 ** 15 }).map((n) => n / 2 ** 16);
    const sixteenths = fc.integer({ min: -16, max: 16 }).map((n) => n / 16);
    holds(
      fc.property(dyadic, sixteenths, fc.integer({ min: 20_000, max: 25_000 }), (step, turn, count) => {
        const out = filled({ peak: 1, turn, step: [step, 0] }, count);
        let worst = 0;
        for (let n = 0; n < count; n++) {
          worst = Math.max(worst, Math.abs(Number(out[n]) - cosDegrees(360 * ((turn + step * n) % 1))));
        }
        expect(worst).toBeLessThanOrEqual(5e-13);
      }),
      30,
    );
  });

  test("does not move at all at frequency 0, and only changes its sign at half the sample rate", () => {
    holds(
      fc.property(peaks, turns, fc.integer({ min: 1, max: 12_000 }), (peak, turn, count) => {
        const first = peak * cosDegrees(360 * turn);
        const still = filled({ peak, turn, step: [0, 0] }, count);
        expect(still.every((x) => x === first)).toBe(true);
        const swinging = filled({ peak, turn, step: [0.5, 0] }, count);
        expect(swinging.every((x, n) => Math.abs(x - (n % 2 === 0 ? first : -first)) <= 2e-15 * peak)).toBe(true);
      }),
      50,
    );
  });

  test("around an offset, or added to what is there, is the sum of both to the bit", () => {
    const before = spread(-1000, 1000);
    holds(
      fc.property(tones, before, fc.integer({ min: 1, max: 1_000 }), (tone, offset, count) => {
        const alone = filled(tone, count);
        const around = filled(tone, count, offset);
        const added = Float64Array.from({ length: count }, (_, n) => offset + n);
        addTone(added, tone);
        expect(around).toEqual(alone.map((x) => offset + x));
        expect(added).toEqual(alone.map((x, n) => offset + n + x));
      }),
      50,
    );
  });

  test("stays within the view that it is given", () => {
    const all = new Float64Array(1_000).fill(7);
    fillTone(all.subarray(100, 583), { peak: 1, turn: 0, step: [0.1, 0] }, 0);
    addTone(all.subarray(600, 777), { peak: 1, turn: 0, step: [0.1, 0] });
    const outside = [...all.subarray(0, 100), ...all.subarray(583, 600), ...all.subarray(777)];
    expect(outside.every((x) => x === 7)).toBe(true);
    expect(all[100]).toBe(1);
    expect(all[600]).toBe(8);
  });

  test("of peak 0 leaves zeros without a sign", () => {
    const out = filled({ peak: 0, turn: 0.4, step: [0.1, 0] }, 500);
    expect(out.every((x) => Object.is(x, 0))).toBe(true);
  });
});
