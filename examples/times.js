/**
 * A script: settings in as CSV, expected operate times and their limits out as CSV, ready to be piped on.
 *
 *     node examples/times.js [settings.csv] > times.csv
 *
 * A line that cannot be used is named on stderr with its number; the good ones are computed all the same, and the script
 * then exits 1.
 */
import { readFile } from "node:fs/promises";
import { InputError, operateTime } from "tripwright/curve";
import { band, roundTo } from "tripwright/grading";

const [header = "", ...lines] = (await readFile(process.argv[2] ?? "examples/settings.csv", "utf8")).trim().split("\n");
const columns = header.split(",");

console.log("relay,multiple,expected_s,low_s,high_s");
lines.forEach((line, i) => {
  // Plain cells only; for quoted ones take any CSV package.
  const cells = line.split(",");
  const cell = (/** @type {string} */ name) => cells[columns.indexOf(name)]?.trim() ?? "";
  const curve = /** @type {import("tripwright/curve").CurveName} */ (cell("curve"));
  const multiple = Number(cell("current")) / Number(cell("pickup"));
  try {
    const expected = operateTime({ curve, multiplier: Number(cell("multiplier")) }, multiple);
    // Below the pickup it never operates: there is no time to hold anything against.
    const { low, high } = expected === Infinity ? {} : band(expected, { percent: 5, absolute: "0.04" });
    console.log(
      [cell("relay"), roundTo(multiple, { decimals: 4 }), expected === Infinity ? "never" : expected, low, high].join(
        ",",
      ),
    );
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    console.error(`line ${i + 2}: ${error.message}`);
    process.exitCode = 1;
  }
});
