/**
 * Why is it off, and which next injection would tell? The failing 51 of Tannery Lane as the work went: after the first
 * time that was outside several causes fit; one more injection, which the library proposes, settles it.
 *
 *     node examples/explain.js
 */
import { readFile } from "node:fs/promises";
import { explain, judge, nextInjection, plan, readReadings, readSheet } from "tripwright";

const folder = "examples/tannery-lane";
const sheet = readSheet(JSON.parse(await readFile(`${folder}/sheet.json`, "utf8")));
const work = JSON.parse(await readFile(`${folder}/work.json`, "utf8"));
const planned = plan(sheet);
const { readings } = readReadings(await readFile(`${folder}/readings.csv`, "utf8"), planned);
const asFound = readings.filter(({ stage }) => stage === "as-found");

/** What leads for 51P after so many readings. @param {typeof readings} taken */
function leadingAfter(taken) {
  const explanations = explain(judge(sheet, planned, taken, work));
  return explanations.filter(({ element, leading }) => element === "51P" && leading);
}

const first = asFound.findIndex(({ check }) => check === "51P/time@3");
const before = leadingAfter(asFound.slice(0, first + 1));
console.log(`After 51P/time@3, ${before.length} causes fit:`);
for (const { says } of before) console.log(`  ${says}`);

const next = nextInjection(before, { sheet, plan: planned });
if (next.kind === "found") {
  console.log(`\nThe next injection: ${next.says}`);
  const answer = asFound.filter(({ check }) => check === next.check);
  const after = leadingAfter([...asFound.slice(0, first + 1), ...answer]);
  console.log(
    `\nIt read ${answer[0]?.value} s. ${after.length === 1 ? "One cause is left" : `${after.length} causes are left`}:`,
  );
  for (const { says, lookAt } of after) console.log(`  ${says}\n  ${lookAt}`);
}
