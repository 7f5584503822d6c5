import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addChirp, type Chirp, fillChirp } from "../../src/base/chirp.js";
import { addTone } from "../../src/base/synthesis.js";
import { holds } from "../support/holds.js";
import { exactly } from "./reference.js";
import { spread } from "./spread.js";
import { both, cosineAfter, peaks, placesIn, share, steps, turns } from "./tones.js";

/** From one frequency to another, and from one peak to another, over `count` samples. */
const ramps = fc
  .record({
    from: steps,
    to: steps,
    peak: peaks,
    last: spread(0, 1000),
    turn: turns,
    count: fc.oneof(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 1, max: 25_000 })),
  })
  .map(({ from, to, peak, last, turn, count }) => {
    const bend = (to[0] - from[0]) / count;
    const chirp: Chirp = { peak, peakStep: (last - peak) / count, turn, step: from, bend: [bend, from[1] / count] };
    return { chirp, count, largest: Math.max(peak, last) };
  });

function added(chirp: Chirp, count: number): Float64Array {
  const out = new Float64Array(count);
  addChirp(out, chirp);
  return out;
}

/** (peak + peakStep · n) · cos(360° · (turn + step · n + bend · n²/2)) at 50 digits. */
function referenceOf({ peak, peakStep, turn, step, bend }: Chirp, n: number) {
  const cycles = both(bend).times(n).div(2).plus(both(step)).times(n).plus(exactly(turn));
  return exactly(peakStep).times(n).plus(exactly(peak)).times(cosineAfter(cycles));
}

describe("a cosine whose frequency and peak change evenly", () => {
  test("is within 5e-13 of its largest peak, also after many blocks", () => {
    holds(
      fc.property(ramps, fc.nat(), ({ chirp, count, largest }, any) => {
        const out = added(chirp, count);
        for (const n of placesIn(count, any)) {
          expect(share(out[n], referenceOf(chirp, n), largest)).toBeLessThanOrEqual(5e-13);
        }
      }),
      100,
    );
  });

  test("is within 5e-13 of its peak after millions of samples too", () => {
    const count = 3_000_000;
    // 45 Hz to 55 Hz in 300 s at 10 kHz.
    const chirp: Chirp = { peak: 1, peakStep: 1e-7, turn: 0.3, step: [0.0045, 0], bend: [0.001 / count, 0] };
    const out = added(chirp, count);
    for (let n = count - 1; n > 0; n -= 123_457) {
      expect(share(out[n], referenceOf(chirp, n), 1)).toBeLessThanOrEqual(5e-13);
    }
  });

  test("at one frequency and peak is the plain cosine", () => {
    holds(
      fc.property(peaks, turns, steps, fc.integer({ min: 1, max: 5_000 }), (peak, turn, step, count) => {
        const plain = new Float64Array(count);
        addTone(plain, { peak, turn, step });
        const out = added({ peak, peakStep: 0, turn, step, bend: [0, 0] }, count);
        expect(out.every((x, n) => Math.abs(x - Number(plain[n])) <= 1e-12 * peak)).toBe(true);
      }),
      50,
    );
  });

  test("is added to what is there, within the view that it is given", () => {
    const chirp: Chirp = { peak: 1, peakStep: 0.5, turn: 0, step: [0.1, 0], bend: [1e-4, 0] };
    const all = new Float64Array(500).fill(7);
    addChirp(all.subarray(100, 383), chirp);
    const alone = added(chirp, 283);
    const expected = Array.from(all, (_, n) => 7 + (alone[n - 100] ?? 0));
    expect(Array.from(all)).toEqual(expected);
  });

  test("fills with an offset as it is added to one, within the view that it is given", () => {
    holds(
      fc.property(ramps, fc.constantFrom(0, 2.5, -1e3), ({ chirp, count, largest }, offset) => {
        const all = new Float64Array(count + 2).fill(9);
        fillChirp(all.subarray(1, count + 1), chirp, offset);
        const apart = 1e-15 * (largest + Math.abs(offset));
        expect([all[0], all[count + 1]]).toEqual([9, 9]);
        expect(added(chirp, count).every((x, n) => Math.abs(x + offset - all[n + 1]!) <= apart)).toBe(true);
      }),
      50,
    );
  });

  test("of peak 0 leaves zeros without a sign", () => {
    const still: Chirp = { peak: 0, peakStep: 0, turn: 0.4, step: [0.1, 0], bend: [1e-5, 0] };
    const filled = new Float64Array(503);
    fillChirp(filled, still, 0);
    for (const out of [added(still, 503), filled]) expect(out.every((x) => Object.is(x, 0))).toBe(true);
  });
});
