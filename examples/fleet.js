/**
 * A thousand relays from generated sheets, planned one by one: the caller sets the pace, shows the progress and stops
 * with Ctrl-C at any time, with what was done so far. At the end, how the time grew.
 *
 *     node examples/fleet.js [relays]
 */
import { planEach } from "tripwright";
import { sheets } from "./fleet-sheets.js";

const wanted = Number(process.argv[2] ?? 1000);

let stopped = false;
process.once("SIGINT", () => {
  stopped = true;
});

const start = performance.now();
let [done, checks, halfway] = [0, 0, 0];
for (const item of planEach(sheets(wanted))) {
  done++;
  if ("plan" in item) checks += item.plan.checks.length;
  if (done === Math.floor(wanted / 2)) halfway = performance.now() - start;
  if (done % Math.ceil(wanted / 10) === 0) {
    console.log(`${done} of ${wanted} relays, ${checks} checks, ${((performance.now() - start) / 1000).toFixed(1)} s`);
    // Lets Ctrl-C be heard: planning itself never waits for anything.
    await new Promise((resolve) => setImmediate(resolve));
    if (stopped) break;
  }
}
const total = performance.now() - start;
console.log(`${done} relays planned${stopped ? ", stopped" : ""}: ${(total / done).toFixed(1)} ms each.`);
if (!stopped && halfway > 0)
  console.log(`The second half took ${((total - halfway) / halfway).toFixed(2)} times as long as the first.`);
