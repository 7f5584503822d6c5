import { atLeast, fail } from "../base/check.js";

/** A list of multiples as doubles; what is no list, or holds what is no number, is refused rather than converted. */
export function toDoubles(multiples: ArrayLike<number>): Float64Array {
  if (multiples instanceof Float64Array) return multiples;
  const isList = Array.isArray(multiples) || ArrayBuffer.isView(multiples);
  if (!isList) return fail("wrong-type", "multiples", "a list of multiples of the setting", multiples);
  return Float64Array.from(multiples, (multiple, i) => {
    return typeof multiple === "number"
      ? multiple
      : atLeast(multiple, 0, `multiples[${i}]`, "a multiple of the setting");
  });
}
