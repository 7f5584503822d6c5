import { above, fail, options } from "../base/check.js";
import { doubles } from "../base/doubles.js";

/** What the largest code stands for. */
export interface Int16Scale {
  /** The instantaneous value, in the unit of the samples, that becomes 32,767; its negative becomes −32,767. */
  readonly fullScale: number;
}

const LARGEST = 32_767;
/** Added and taken away again it leaves whole numbers: doubles beyond it have no halves, and ties go to the even one. */
const ROUNDER = 1.5 * 2 ** 52;

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
 * @throws A {@link InputError} for a full scale that is not above 0, for samples that are not finite or lie beyond it (the
 * first is named, and how many there are), and for an `out` of another length.
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
  above(fullScale, 0, "fullScale", "a full scale");
  const values = doubles(samples, "samples", "an instantaneous value");
  if (out !== undefined && !(out instanceof Int16Array)) fail("wrong-type", "out", "an Int16Array", out);
  const codes = out ?? new Int16Array(values.length);
  if (codes.length !== values.length) fail("wrong-length", "out", `a length of ${values.length}`, codes.length);
  if (!fits(values, fullScale)) failBeyond(values, fullScale);
  for (let n = 0; n < codes.length; n++) codes[n] = (values[n]! / fullScale) * LARGEST + ROUNDER - ROUNDER;
  return codes;
}

/** Looks before anything is written; not a number fits nowhere. */
function fits(values: Float64Array, fullScale: number): boolean {
  let fitting = true;
  for (let n = 0; n < values.length; n++) fitting = fitting && Math.abs(values[n]!) <= fullScale;
  return fitting;
}

function failBeyond(values: Float64Array, fullScale: number): never {
  const beyond = values.filter((value) => !(Math.abs(value) <= fullScale));
  const first = values.findIndex((value) => !(Math.abs(value) <= fullScale));
  const isNumber = Number.isFinite(values[first]);
  return fail(
    isNumber ? "out-of-range" : "not-finite",
    `samples[${first}]`,
    `a value within ±${fullScale}, as ${values.length - beyond.length} of ${values.length} samples are`,
    values[first],
  );
}
