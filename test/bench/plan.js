/** How the time of planning grows with the number of relays: ten times as many may take at most 10.5 times as long. */
import { readFileSync } from "node:fs";
import { planEach } from "tripwright/plan";

const sheet = JSON.parse(readFileSync("examples/tannery-lane/sheet.json", "utf8"));

/** @param {number} count */
function secondsFor(count) {
  const start = performance.now();
  let checks = 0;
  for (const item of planEach(Array.from({ length: count }, () => sheet)))
    checks += "plan" in item ? item.plan.checks.length : 0;
  if (checks === 0) throw new Error("nothing was planned");
  return (performance.now() - start) / 1000;
}

secondsFor(60); // warm
/** @param {number[]} values */
const median = (values) => values.sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
const rounds = Array.from({ length: 3 }, () => [secondsFor(20), secondsFor(200)]);
const [few, many] = [median(rounds.map(([a = 0]) => a)), median(rounds.map(([, b = 0]) => b))];
console.log(`  ${((1000 * many) / 200).toFixed(1)} ms for a relay of 8 functions`);
console.log(`  10 times as many relays take ${(many / few).toFixed(2)} times as long (wanted: at most 10.5)`);
