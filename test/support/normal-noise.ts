/**
 * Normal noise of variance 1, the same in every run (a linear congruence, then the polar form of Box and Muller): what a
 * share of trials says must not change from run to run by chance.
 */
export function normalNoise(seed = 1n): () => number {
  let state = seed;
  const uniform = () => {
    state = BigInt.asUintN(64, state * 6364136223846793005n + 1442695040888963407n);
    return (Number(state >> 11n) + 0.5) / 2 ** 53;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
