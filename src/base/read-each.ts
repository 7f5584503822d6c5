import { list } from "./check.js";
import { within } from "./input-error.js";

/** Reads the items of a list, `least` of them or more; their problems stand at their places in it. */
export const readEach = <T, R>(
  given: readonly T[],
  path: string,
  what: string,
  read: (item: T, i: number) => R,
  least = 0,
): R[] => Array.from(list(given, path, what, least), (item, i) => within(`${path}[${i}]`, () => read(item, i)));
