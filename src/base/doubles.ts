/** Lists of numbers at the door of a batch function. */
import { fail, failType, finite } from "./check.js";

/**
 * A list of numbers as doubles. A `Float64Array` comes back as it is, its elements unchecked; any other list is copied, and
 * an element that is no finite number is refused by its place rather than converted.
 */
export function doubles(list: ArrayLike<number>, path: string, what: string): Float64Array {
  if (list instanceof Float64Array) return list;
  const isList = Array.isArray(list) || (ArrayBuffer.isView(list) && "length" in list);
  return isList ? Float64Array.from(list, finiteIn(path, what)) : failType(path, `a list, each ${what}`, list);
}

/** A copy of a list of numbers, each of them finite. */
export const finiteDoubles = (list: ArrayLike<number>, path: string, what: string): Float64Array =>
  doubles(list, path, what).map(finiteIn(path, what));

const finiteIn = (path: string, what: string) => (x: number, i: number) =>
  Number.isFinite(x) ? x : finite(x, `${path}[${i}]`, what);

/** The array that is to be filled: the given one, which must fit exactly, or a new one. */
export function room(out: Float64Array | undefined, length: number): Float64Array {
  if (out === undefined) return new Float64Array(length);
  if (!(out instanceof Float64Array)) return fail("wrong-type", "out", "a Float64Array", out);
  return ofLength(out, length, "out");
}

/** A list of a given length. */
export function ofLength(list: Float64Array, length: number, path: string): Float64Array {
  return list.length === length ? list : fail("wrong-length", path, `a length of ${length}`, list.length);
}
