/**
 * Which cause is ranked first for each true one, how often it leads, and whether further injections
 * settle a tie: no injection is left that tells and the true cause leads, with others that read the same or alone.
 */
import { claimsWithoutFault, SCENARIOS, tryOut } from "./explain-trials.js";

const TRIALS = 40;
const SEED = 20261125;

let [right, settled, all] = [0, 0, 0];
console.log(`  true cause (${TRIALS} trials each)             leads  settled    alone  ranked first`);
for (const scenario of SCENARIOS) {
  const came = tryOut(scenario, { trials: TRIALS, seed: SEED, rounds: 5 });
  [right, settled, all] = [right + came.right, settled + came.settled, all + TRIALS];
  const name = `${scenario.cause} ${scenario.which ?? ""}`.trim().padEnd(42);
  const firsts = [...came.firsts].sort(([, a], [, b]) => b - a).map(([first, count]) => `${count} ${first}`);
  console.log(
    `  ${name} ${share(came.right, TRIALS)}  ${share(came.settled, TRIALS)}  ${share(came.alone, TRIALS)}  ${firsts.join(", ")}`,
  );
}
const claims = claimsWithoutFault({ trials: 10 * TRIALS, seed: SEED });
console.log(`  all: leads ${share(right, all)} (wanted: at least 95 %), settled ${share(settled, all)}`);
console.log(`  nothing wrong: something claimed in ${share(claims, 10 * TRIALS)} (wanted: at most 5 %)`);

/** @param {number} count @param {number} of */
function share(count, of) {
  return `${((100 * count) / of).toFixed(1).padStart(5)} %`;
}
