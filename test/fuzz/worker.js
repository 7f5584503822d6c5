/** The process of the fuzz script that tries inputs until their number is reached, and reports function by function. */
import { openSync, writeSync } from "node:fs";
import { inspect } from "node:util";
import { Worker } from "node:worker_threads";
import { targets } from "./corpus.js";
import { tryOne } from "./try-one.js";

/** @type {{ inputs: string, seed: string, only: string, now: string, spent: string, skip: string[] }} */
const { inputs, seed, only, now, spent: spentFile, skip } = JSON.parse(process.argv[2] ?? "{}");
/** About where it is stands in this file, so that it is known when this process hangs or dies. */
const nowFile = openSync(now, "w");
new Worker(new URL("spent.js", import.meta.url), { workerData: spentFile }).unref();

/** What one function gets at first, in milliseconds of the processor; dear ones get no more. */
const SLICE = 2500;
const CHUNK = 500;

const every = await targets();
const all = every.filter(({ name }) => name.startsWith(only));
const pool = every.flatMap(({ examples }) => examples.flat());
const states = all.map((target) => ({
  target,
  spent: 0,
  tally: { done: 0, accepted: 0, slowest: 0, findings: /** @type {{ [what: string]: string }} */ ({}) },
}));
const open = states.filter(({ target }) => !skip.includes(target.name));

/** @param {(typeof states)[number]} state @param {number} count */
function tryMany({ target, tally, ...state }, count) {
  let spent = state.spent;
  for (let i = 0; i < count && spent < SLICE; i++) {
    if (tally.done % 50 === 0) writeSync(nowFile, `${target.name} #${tally.done}`.padEnd(80), 0);
    const { finding, args, milliseconds, accepted } = tryOne(target, `${seed} ${target.name} ${tally.done}`, pool);
    tally.done++;
    tally.accepted += accepted ? 1 : 0;
    tally.slowest = Math.max(tally.slowest, milliseconds);
    spent += milliseconds;
    if (finding !== undefined) tally.findings[finding] ??= `#${tally.done - 1}: ${shown(args)}`;
  }
  return spent;
}

/** @param {unknown} args */
function shown(args) {
  try {
    return inspect(args, {
      depth: 5,
      breakLength: Number.POSITIVE_INFINITY,
      maxArrayLength: 8,
      maxStringLength: 40,
    }).slice(0, 1200);
  } catch {
    return "(cannot be shown)";
  }
}

let total = 0;
for (let working = open; working.length > 0 && total < Number(inputs); ) {
  for (const state of working) {
    const before = state.tally.done;
    state.spent = tryMany(state, Math.min(CHUNK, Number(inputs) - total));
    total += state.tally.done - before;
  }
  working = working.filter(({ spent }) => spent < SLICE);
}
for (const { target, tally } of states.filter(({ target }) => !skip.includes(target.name)))
  process.send?.({ name: target.name, tally });
