import fc from "fast-check";

/** Of the runs of a property: a mutation run, in which each mutant meets all tests again, asks for fewer. */
const SHARE = Number(process.env["TRIPWRIGHT_SHARE"] ?? 1);

/** Asserts a property with the seed of this run; a failure prints the seed, the path and the shrunk counterexample. */
export function holds<T>(property: fc.IProperty<T>, runs = 200): void {
  fc.assert(property, { seed: Number(process.env["TRIPWRIGHT_SEED"]), numRuns: Math.ceil(runs * SHARE) });
}
