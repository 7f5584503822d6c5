import { finite, options, whole } from "../base/check.js";
import { decimal, type Exact, toNumber } from "../base/exact.js";
import { positive } from "../base/positive.js";

/** A converter: how it is built, or what it shows of it. */
export interface Converter {
  /** A whole number from 1 to 32. */
  readonly bits: number;
  /** From the lowest code to the highest, above 0: 40 V for eight divisions of 5 V. */
  readonly span: Exact;
}

/** What the steps of a converter cost. */
export interface Quantization {
  /** One code, in the unit of the span. */
  readonly step: number;
  /** Standard uncertainty of one sample, step/√12. */
  readonly standard: number;
  /** Of a sine that fills the span against this noise, in decibels. */
  readonly signalToNoise: number;
}

/** 10·log10(3/2): the power of a full sine against that of the rounding, for no bits. */
const NO_BITS = 1.7609125905568124;
/** 20·log10(2). */
const EACH_BIT = 6.020599913279624;

/**
 * What the steps of an oscilloscope or recorder leave uncertain, were it otherwise perfect.
 *
 *     step = span/2^bits,   u = step/√12,   signal to noise = 6.02·bits + 1.76 dB
 *
 * @throws A {@link InputError} for bits that are not whole or beyond 32, a span that is not above 0, and unknown keys.
 * Accuracy: the step is the nearest double, the others within 2 units in the last place.
 * @source JCGM 100:2008 F.2.2.1 (digital indication); ideal quantiser of IEEE Std 1057 and 1241, from memory
 *
 * @example
 * import { quantization } from "tripwright/grading";
 * const { step, standard, signalToNoise } = quantization({ bits: 8, span: 40 });
 * step; // → 0.15625
 * standard.toFixed(4); // → "0.0451"
 * signalToNoise.toFixed(1); // → "49.9"
 */
export function quantization(converter: Converter): Quantization {
  const { bits, span } = options(converter, ["bits", "span"]);
  whole(bits, [1, 32], "bits", "bits");
  const step = toNumber(positive(span, "span", "a span").div(decimal(2 ** bits, "bits")), "span");
  return { step, standard: step / Math.sqrt(12), signalToNoise: bits * EACH_BIT + NO_BITS };
}

/**
 * The bits that a converter is worth, from the ratio of signal to noise and distortion that is stated or measured: what
 * `quantization` takes a perfect one of so many bits to have.
 *
 *     bits = (decibels − 1.76)/6.02
 *
 * @param decibels - Of a sine that fills the span.
 * @throws A {@link InputError} for a ratio that is not finite.
 * Accuracy: 4 units in the last place of the greater of the two terms.
 * @source IEEE Std 1057 and 1241 (effective number of bits), from memory
 *
 * @example
 * import { effectiveBits } from "tripwright/grading";
 * effectiveBits(44.5).toFixed(1); // → "7.1"
 */
export const effectiveBits = (decibels: number): number =>
  (finite(decibels, "decibels", "a ratio in decibels") - NO_BITS) / EACH_BIT;
