import { above, fail, options } from "../base/check.js";
import { doubles } from "../base/doubles.js";
import { PLACES } from "../base/places.js";

/** What the largest code stands for. */
export interface Int16Scale {
  /** The instantaneous value, in the unit of the samples, that becomes 32,767; its negative becomes −32,767. */
  readonly fullScale: number;
}

const LARGEST = 32_767;

/**
 * Samples as 16-bit codes, for sources and files that take nothing finer.
 *
 *     code[n] = samples[n] · 32767/fullScale, rounded, ties to even
 *
 * A code is worth fullScale/32767, in both directions alike. A sample beyond the full scale is refused, never clipped: a
 * clipped sine is another test.
 *
 * @param samples - Finite instantaneous values, such as {@link render} makes.
 * @param out - Filled and returned where it is given; as long as `samples`.
 * @returns Codes from −32,767 to 32,767.
 * @throws A {@link InputError} for a full scale that is not above 1e-300, for samples that are not finite or lie beyond
 * it (the first is named, and how many lie within), and for an `out` of another length.
 * Accuracy: within half a code and 1e-11 of a code.
 * @source definition
 *
 * @example
 * import { toInt16 } from "tripwright/timeline";
 * Array.from(toInt16([0, 50, -100, 100], { fullScale: 100 })); // → [0, 16384, -32767, 32767]
 * toInt16([0, 100.1], { fullScale: 100 }); // throws InputError
 */
export function toInt16(samples: ArrayLike<number>, scale: Int16Scale, out?: Int16Array): Int16Array {
  const { fullScale } = options(scale, ["fullScale"]);
  above(fullScale, 1e-300, "fullScale", "a full scale");
  const values = doubles(samples, "samples", "an instantaneous value");
  if (out !== undefined && !(out instanceof Int16Array)) fail("wrong-type", "out", "an Int16Array", out);
  const codes = out ?? new Int16Array(values.length);
  if (codes.length !== values.length) fail("wrong-length", "out", `a length of ${values.length}`, codes.length);
  const first = convert(values, fullScale, codes);
  if (first < codes.length) failBeyond(values, fullScale, first);
  return codes;
}

/** Added and taken away again it leaves whole numbers: doubles beyond it have no halves, and ties go to the even one. */
const ROUNDER = 1.5 * 2 ** 52;

/**
 * The place of the first value beyond the full scale, up to which there are codes then. Most go by eights; what is left, and
 * where one of eight lies beyond, goes one by one.
 */
function convert(values: Float64Array, fullScale: number, codes: Int16Array): number {
  for (let n = convertEights(values, fullScale, codes); n < codes.length; n++) {
    const value = values[n]!;
    if (!(Math.abs(value) <= fullScale)) return n;
    codes[n] = value * (LARGEST / fullScale) + ROUNDER - ROUNDER;
  }
  return codes.length;
}

/** A loop of its own runs faster, and eight at a time, with nothing of the module read within, faster still. */
function convertEights(values: Float64Array, fullScale: number, codes: Int16Array): number {
  const end = Math.min(codes.length, PLACES) & ~7;
  const codesPerUnit = LARGEST / fullScale;
  const rounder = ROUNDER;
  for (let n = 0; n < end; n += 8) {
    const a = values[n]!;
    const b = values[n + 1]!;
    const c = values[n + 2]!;
    const d = values[n + 3]!;
    const e = values[n + 4]!;
    const f = values[n + 5]!;
    const g = values[n + 6]!;
    const h = values[n + 7]!;
    // Not a number is beyond, too.
    if (!(Math.abs(a) <= fullScale && Math.abs(b) <= fullScale && Math.abs(c) <= fullScale && Math.abs(d) <= fullScale))
      return n;
    if (!(Math.abs(e) <= fullScale && Math.abs(f) <= fullScale && Math.abs(g) <= fullScale && Math.abs(h) <= fullScale))
      return n;
    codes[n] = a * codesPerUnit + rounder - rounder;
    codes[n + 1] = b * codesPerUnit + rounder - rounder;
    codes[n + 2] = c * codesPerUnit + rounder - rounder;
    codes[n + 3] = d * codesPerUnit + rounder - rounder;
    codes[n + 4] = e * codesPerUnit + rounder - rounder;
    codes[n + 5] = f * codesPerUnit + rounder - rounder;
    codes[n + 6] = g * codesPerUnit + rounder - rounder;
    codes[n + 7] = h * codesPerUnit + rounder - rounder;
  }
  return end;
}

function failBeyond(values: Float64Array, fullScale: number, first: number): never {
  const within = values.reduce((count, value) => count + (Math.abs(value) <= fullScale ? 1 : 0), 0);
  return fail(
    Number.isFinite(values[first]) ? "out-of-range" : "not-finite",
    `samples[${first}]`,
    `a value within ±${fullScale}, as ${within} of ${values.length} samples are`,
    values[first],
  );
}
