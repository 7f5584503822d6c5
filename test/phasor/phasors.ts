/** What the tests of this folder share: phasors of every size. */
import fc from "fast-check";
import type { Phasor } from "tripwright/phasor";
import { spread } from "../base/spread.js";

/** A part of either sign between 10^low and 10^high in size, evenly spread over the decades, or 0. */
const part = (low: number, high: number): fc.Arbitrary<number> =>
  fc.oneof(
    {
      weight: 9,
      arbitrary: fc.tuple(fc.constantFrom(1, -1), spread(low, high)).map(([sign, power]) => sign * 10 ** power),
    },
    { weight: 1, arbitrary: fc.constantFrom(0, -0) },
  );

const phasor = (low: number, high: number): fc.Arbitrary<Phasor> =>
  fc.record({ re: part(low, high), im: part(low, high) });

/** Volts, amperes and ohms as they occur. */
export const phasors = phasor(-3, 6);
/** Anything a double can hold, subnormal numbers included. */
export const extremePhasors = fc.oneof(phasor(-323, 308), phasor(290, 308), phasor(-323, -300), phasors);
export const angles = fc.oneof(
  spread(-720, 720),
  fc.integer({ min: -48, max: 48 }).map((n) => 15 * n),
);

export const isZero = ({ re, im }: Phasor): boolean => re === 0 && im === 0;
/** The length of the difference of two ordinary phasors. */
export const distance = (a: Phasor, b: Phasor): number => Math.hypot(a.re - b.re, a.im - b.im);
export const sizeOf = ({ re, im }: Phasor): number => Math.hypot(re, im);
