/**
 * Throws odd inputs at every exported function of every entry point: nothing but a result without NaN or an InputError
 * may come back, within a second.
 *
 *     npm run fuzz -- [--inputs 1000000] [--seed 1] [--only curve.operateTime]
 *
 * Needs a build (`npm run fuzz` makes one). The work is done in a process of its own, so that an input at which it
 * hangs or dies is known.
 */
import { fork } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";

/** An input at which the worker stands for so many milliseconds of its processor time hangs: a busy machine is no finding. */
const HANGS = 60_000;
const NOW = ".cache/fuzz-now";
const SPENT = ".cache/fuzz-spent";

const { values } = parseArgs({
  options: {
    inputs: { type: "string", default: "1000000" },
    seed: { type: "string", default: "1" },
    only: { type: "string", default: "" },
  },
});

/** @typedef {{ done: number, accepted: number, slowest: number, findings: { [what: string]: string } }} Tally */

/** @type {{ [name: string]: Tally }} */
const tallies = {};

/** Where the worker stands: a function and the number of an input, that or one of the 49 after it. */
const place = () => readFileSync(NOW, "utf8").trim();

/** Processor time that the worker has taken. */
const spent = () => Number(readFileSync(SPENT, "utf8"));

/**
 * Runs the worker until it is through (true), or hangs or dies (false); the function at which it did is then left out.
 * @returns {Promise<boolean>}
 */
function runWorker() {
  writeFileSync(SPENT, "0");
  const given = JSON.stringify({ ...values, now: NOW, spent: SPENT, skip: Object.keys(tallies) });
  const worker = fork(fileURLToPath(new URL("worker.js", import.meta.url)), [given], {
    stdio: ["ignore", "inherit", "ignore", "ipc"],
  });
  return new Promise((resolve) => {
    let before = "";
    let since = 0;
    let how = "kills the process";
    const watch = setInterval(() => {
      if (place() !== before) since = spent();
      before = place();
      if (before === "" || spent() - since < HANGS) return;
      how = "hangs";
      worker.kill("SIGKILL");
    }, 500);
    worker.on("message", (message) => {
      const { name, tally } = /** @type {{ name: string, tally: Tally }} */ (message);
      tallies[name] = tally;
    });
    worker.on("exit", (code) => {
      clearInterval(watch);
      if (code === 0) return resolve(true);
      const [name = "", number = ""] = place().split(" ");
      if (name === "" || name in tallies) throw new Error(`the worker ended with ${code}`);
      tallies[name] = {
        done: Number(number.slice(1)),
        accepted: 0,
        slowest: 0,
        findings: { [how]: `${number} or one of the 49 after it` },
      };
      resolve(false);
    });
  });
}

mkdirSync(".cache", { recursive: true });
writeFileSync(NOW, "");
const start = Date.now();
while (!(await runWorker()));

const all = Object.entries(tallies);
const findings = all.flatMap(([name, tally]) =>
  Object.entries(tally.findings).map(([what, input]) => ({ name, what, input })),
);
for (const { name, what, input } of findings) console.log(`FOUND   ${name}: ${what}\n        ${input}`);
const total = all.reduce((sum, [, { done }]) => sum + done, 0);
const accepted = all.reduce((sum, [, { accepted }]) => sum + accepted, 0);
const slowest = Math.max(...all.map(([, tally]) => tally.slowest));
console.log(
  `${total} inputs at ${all.length} functions in ${Math.round((Date.now() - start) / 1000)} s, seed ${values.seed}: ` +
    `${accepted} taken, ${total - accepted} refused; the slowest took ${Math.round(slowest)} ms; ${findings.length} findings`,
);
process.exitCode = findings.length === 0 ? 0 : 1;
