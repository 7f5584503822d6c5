/**
 * Compares ways to do the same work side by side in one process: rounds are interleaved, so that a machine that slows
 * down slows all of them, and medians are compared. Ratios are what counts; absolute times swing.
 */

/** @typedef {{ name: string, run: () => number }} Way Each returns a checksum, so that nothing is optimised away. */

const ROUNDS = 15;

/**
 * Prints how much longer each other way takes than ours, which comes first.
 *
 * @param {string} title
 * @param {readonly [Way, ...Way[]]} ways
 * @param {number} agreement Largest relative difference of the checksums.
 */
export function compare(title, ways, agreement = 1e-9) {
  const sums = ways.map(({ run }) => run());
  const [reference] = sums;
  for (const [i, sum] of sums.entries()) {
    if (Number.isNaN(sum)) throw new Error(`${title}: ${ways[i]?.name} gives NaN`);
    if (Math.abs(sum - Number(reference)) > agreement * Math.abs(Number(reference))) {
      throw new Error(`${title}: ${ways[i]?.name} gives ${sum}, ours ${reference}`);
    }
  }
  const times = ways.map(() => /** @type {number[]} */ ([]));
  for (let round = 0; round < ROUNDS; round++) {
    for (const [i, { run }] of ways.entries()) {
      const start = performance.now();
      run();
      times[i]?.push(performance.now() - start);
    }
  }
  const [ours = 0, ...others] = times.map(median);
  console.log(`${title} (ours: ${ways[0].name}, ${ours.toFixed(2)} ms)`);
  for (const [i, time] of others.entries()) console.log(`  ${(time / ours).toFixed(2)} × ours  ${ways[i + 1]?.name}`);
}

/** @param {number[]} values */
function median(values) {
  const sorted = values.toSorted((a, b) => a - b);
  return Number(sorted[Math.floor(sorted.length / 2)]);
}
