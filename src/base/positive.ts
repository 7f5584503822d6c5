/** Exact decimals that have no business below 0. */
import { fail } from "./check.js";
import { type Decimal, decimal, type Exact } from "./exact.js";

/** Reads an exact decimal above 0. */
export function positive(value: Exact | undefined, path: string, what: string): Decimal {
  const read = decimal(value as Exact, path, what);
  return read.gt(0) ? read : fail("out-of-range", path, `${what} above 0`, value);
}

/** Reads an exact decimal of 0 or more. */
export function notNegative(value: Exact | undefined, path: string, what: string): Decimal {
  const read = decimal(value as Exact, path, what);
  return read.lt(0) ? fail("out-of-range", path, `${what} of 0 or more`, value) : read;
}

/** Those of the named fields that are given, each above 0. */
export function given<K extends string>(
  names: readonly K[],
  fields: { readonly [name in K]?: Exact },
  what: { readonly [name in K]: string },
): { readonly [name in K]?: Decimal } {
  const read: { [name in K]?: Decimal } = {};
  for (const name of names) {
    const value = fields[name];
    if (value !== undefined) read[name] = positive(value, name, what[name]);
  }
  return read;
}
