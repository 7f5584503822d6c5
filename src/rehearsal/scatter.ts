/**
 * Numbers that scatter like a normal distribution, the same for the same seed: uniform numbers of a 32-bit counter whose
 * bits are mixed (a finalizer of the MurmurHash3 kind), two of them made into one normal one by Box and Muller.
 *
 * @source G. E. P. Box, M. E. Muller, A note on the generation of random normal deviates, Ann. Math. Stat. 29 (1958)
 */
export function normalNumbers(seed: number): () => number {
  let counter = seed >>> 0;
  const uniform = (): number => {
    counter = (counter + 0x9e3779b9) >>> 0;
    let mixed = counter;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 4294967296;
  };
  return () => {
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
    return radius * Math.cos(2 * Math.PI * uniform());
  };
}
