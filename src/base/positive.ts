/** Exact decimals that have no business below 0. */
import { fail } from "./check.js";
import { type Decimal, decimal, type Exact } from "./exact.js";

/** Reads an exact decimal above 0; `unit` is printed behind the 0. */
export function positive(value: Exact | undefined, path: string, what: string, unit = ""): Decimal {
  const expected = `${what} above 0${unit && ` ${unit}`}`;
  const read = decimal(value as Exact, path, expected);
  return read.gt(0) ? read : fail("out-of-range", path, expected, value);
}

/** Reads an exact decimal of 0 or more; `unit` is printed behind the 0. */
export function notNegative(value: Exact | undefined, path: string, what: string, unit = ""): Decimal {
  const expected = `${what} of 0${unit && ` ${unit}`} or more`;
  const read = decimal(value as Exact, path, expected);
  return read.lt(0) ? fail("out-of-range", path, expected, value) : read;
}

/** Those of the named fields that are given, each above 0; what each is, and its unit. */
export function given<K extends string>(
  names: readonly K[],
  fields: { readonly [name in K]?: Exact },
  what: { readonly [name in K]: readonly [what: string, unit: string] },
): { readonly [name in K]?: Decimal } {
  const read: { [name in K]?: Decimal } = {};
  for (const name of names) {
    const value = fields[name];
    if (value !== undefined) read[name] = positive(value, name, what[name][0], what[name][1]);
  }
  return read;
}
