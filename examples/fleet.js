/**
 * A thousand relays from generated sheets, planned one by one: the caller sets the pace, shows the progress and stops
 * with Ctrl-C at any time, with what was done so far. At the end, how the time grew.
 *
 *     node examples/fleet.js [relays]
 */
import { planEach } from "tripwright";

const wanted = Number(process.argv[2] ?? 1000);
const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" }, dropout: { percent: 3 } };

/**
 * Settings that differ from relay to relay.
 * @param {number} count
 */
function* sheets(count) {
  for (let i = 0; i < count; i++) {
    yield {
      format: "tripwright/sheet@1",
      substation: "Corriedale Junction 33/11 kV",
      feeder: `Tannery Lane ${i + 1}`,
      relay: `F${i + 1}`,
      frequency: "50 Hz",
      values: "secondary",
      ct: "400/5",
      vt: "11 kV/110 V",
      elements: [
        {
          id: "51P",
          function: "51",
          pickup: 2 + (i % 30) / 10,
          curve: "iec-inverse",
          multiplier: 0.1 + (i % 9) / 10,
          startContact: "start",
          dropoutRatio: 0.95,
          accuracy,
        },
        { id: "50P", function: "50", pickup: 20 + (i % 20), dropoutRatio: 0.95, accuracy },
        {
          id: "51N",
          function: "51N",
          pickup: 0.5,
          curve: "iec-very-inverse",
          multiplier: 0.2,
          startContact: "start N",
          dropoutRatio: 0.95,
          accuracy,
        },
        {
          id: "27",
          function: "27",
          watches: "line-to-line",
          pickup: "0.8 × rated",
          delay: "1.5 s",
          dropoutRatio: 1.05,
          accuracy,
        },
      ],
    };
  }
}

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
