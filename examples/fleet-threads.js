/**
 * The same fleet on worker threads, through the pool of the package piscina, beside one thread in the same run: the ratio
 * of their times, and that their results are the same to the bit.
 *
 *     node examples/fleet-threads.js [relays] [threads]
 */
import { availableParallelism } from "node:os";
import { Piscina } from "piscina";
import { sheets } from "./fleet-sheets.js";
import plannedRows from "./fleet-worker.js";

const wanted = Number(process.argv[2] ?? 60);
const threads = Number(process.argv[3] ?? availableParallelism());

// Many sheets to a job, because a job costs a copy of its sheets; many jobs to a thread, so that none idles at the end.
const BATCH = 4;
const fleet = [...sheets(wanted)];
const batches = Array.from({ length: Math.ceil(wanted / BATCH) }, (_, i) => fleet.slice(i * BATCH, (i + 1) * BATCH));

const pool = new Piscina({
  filename: new URL("./fleet-worker.js", import.meta.url).href,
  minThreads: threads,
  maxThreads: threads,
});

const alone = async () => batches.flatMap((batch) => plannedRows(batch));
const together = async () => (await Promise.all(batches.map((batch) => pool.run(batch)))).flat();

/** @param {() => Promise<unknown[]>} work */
async function timed(work) {
  const start = performance.now();
  const rows = await work();
  return { rows, ms: performance.now() - start };
}

// The first round warms both up and does not count; the others take turns, so that a busy machine slows both.
const ratios = [];
for (let round = 0; round <= 3; round++) {
  const one = await timed(alone);
  const many = await timed(together);
  if (JSON.stringify(one.rows) !== JSON.stringify(many.rows)) throw new Error("the threads planned something else");
  if (round > 0) ratios.push(one.ms / many.ms);
}
await pool.close();

const [least, middle, most] = ratios.toSorted((a, b) => a - b).map((ratio) => ratio.toFixed(2));
console.log(`${wanted} relays planned by 1 thread and by ${threads}, with the same results.`);
console.log(`${threads} threads were ${middle} times as fast as one (${least} to ${most} in three rounds).`);
