import fc from "fast-check";

/** Asserts a property with the seed of this run; a failure prints the seed, the path and the shrunk counterexample. */
export function holds<T>(property: fc.IProperty<T>, runs = 200): void {
  fc.assert(property, { seed: Number(process.env["TRIPWRIGHT_SEED"]), numRuns: runs });
}
