/** What an import costs a process that has just begun, measured inside it around the import alone. */
import { execFileSync } from "node:child_process";
import { compare } from "./compare.js";

/** @param {string} what @returns {() => import("./compare.js").Timed} */
const cold = (what) => () => {
  const code = `const start = performance.now(); await import("${what}"); console.log(performance.now() - start);`;
  const printed = execFileSync(process.execPath, ["--input-type=module", "-e", code], { encoding: "utf8" });
  return { milliseconds: Number(printed), result: 1 };
};
compare("the first import of a process", [
  { name: "tripwright/curve", run: cold("tripwright/curve") },
  { name: "mathjs", run: cold("mathjs"), wanted: 25 },
  { name: "all of tripwright", run: cold("tripwright") },
  { name: "decimal.js alone", run: cold("decimal.js") },
]);
