import fc from "fast-check";

/** So many runs, or a share of them: a mutation run, in which each mutant meets all tests again, asks for fewer. */
export const runsOf = (runs: number): number => Math.ceil(runs * Number(process.env["TRIPWRIGHT_SHARE"] ?? 1));

/** Asserts a property with the seed of this run; a failure prints the seed, the path and the shrunk counterexample. */
export function holds<T>(property: fc.IProperty<T>, runs = 200): void {
  fc.assert(property, { seed: Number(process.env["TRIPWRIGHT_SEED"]), numRuns: runsOf(runs) });
}
