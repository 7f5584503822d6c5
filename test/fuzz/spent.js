/** Writes down four times a second how much of the processor this process has taken, also while it works without a break. */
import { openSync, writeSync } from "node:fs";
import { workerData } from "node:worker_threads";

const file = openSync(workerData, "w");

setInterval(() => {
  const { user, system } = process.cpuUsage();
  writeSync(file, String((user + system) / 1000).padEnd(20), 0);
}, 250);
