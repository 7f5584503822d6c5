/** Steps along a sample clock and what cosines are there, at 50 digits. */
import fc from "fast-check";
import type { Double2 } from "../../src/base/double-double.js";
import { cosineOf, exactly, type Reference } from "./reference.js";
import { spread } from "./spread.js";

/** From 1e-12 to 0.1, every power of ten as likely as the next. */
const small = spread(-12, -1).map((exponent) => 10 ** exponent);
/** An eighth of the sample rate and its multiples are where the recurrence loses most; the second part is a tail. */
export const steps: fc.Arbitrary<Double2> = fc
  .tuple(
    fc.oneof(
      spread(0, 0.5),
      small,
      fc.tuple(fc.integer({ min: 1, max: 4 }), small).map(([eighths, off]) => (eighths - off) / 8),
    ),
    spread(-1, 1),
  )
  .map(([step, tail]) => [step, step * tail * 2 ** -54]);

export const peaks = spread(0.5, 1000);
export const turns = spread(-1, 1);

export const both = ([high, low]: Double2): Reference => exactly(high).plus(exactly(low));

/** cos(360° · cycles) */
export const cosineAfter = (cycles: Reference): Reference => cosineOf(cycles.mod(1).times(360));

/** How far a sample lies from its reference, as a share of the peak. */
export const share = (actual: number | undefined, reference: Reference, peak: number): number =>
  exactly(actual as number)
    .minus(reference)
    .abs()
    .div(exactly(peak))
    .toNumber();

/** Some places of a record: its ends, the last of the first block, and one more. */
export const placesIn = (count: number, any: number): readonly number[] =>
  [0, 111, 191, any % count, count - 1].filter((n) => n < count);
