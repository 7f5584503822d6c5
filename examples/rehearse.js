/**
 * The same plan, tried on relays that do not exist: one that is right, one whose time multiplier is wrong, one whose
 * readings scatter. Shows whether the plan would tell them apart before anybody goes to site.
 *
 *     node examples/rehearse.js [folder]
 *
 * The folder (default examples/tannery-lane) holds sheet.json.
 */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { judge, plan, readSheet, rehearsePlan, summarize } from "tripwright";

const folder = process.argv[2] ?? "examples/tannery-lane";
const sheet = readSheet(JSON.parse(await readFile(join(folder, "sheet.json"), "utf8")));
const planned = plan(sheet);
const first = sheet.elements[0] ?? { id: "" };

const relays = {
  "A relay that is right": {},
  [`${first.id} with a time multiplier of 1.125 times what the sheet says`]: {
    errors: { [first.id]: { time: 1.125 } },
  },
  [`${first.id} starts 6 % high, and its times scatter by 10 ms`]: {
    errors: { [first.id]: { pickup: 1.06, scatter: { delay: 0.01 } } },
    seed: 2026,
  },
};

for (const [title, options] of Object.entries(relays)) {
  const record = judge(sheet, planned, rehearsePlan(sheet, planned, options));
  const [, ...telling] = summarize(record).split("\n");
  console.log(`${title}\n  ${telling.filter((line) => line !== "").join("\n  ")}\n`);
}
