/**
 * A record as tidy rows: one flat object for each reading, for a table, a data frame or a plot library. Times of day are ISO
 * 8601, as they were written in the readings.
 *
 *     node examples/rows.js
 */
import { readFile } from "node:fs/promises";
import { judge, plan, readReadings, readSheet, toRows } from "tripwright";

const folder = "examples/tannery-lane";
const sheet = readSheet(JSON.parse(await readFile(`${folder}/sheet.json`, "utf8")));
const work = JSON.parse(await readFile(`${folder}/work.json`, "utf8"));
const planned = plan(sheet);
const { readings } = readReadings(await readFile(`${folder}/readings.csv`, "utf8"), planned);
const rows = toRows(judge(sheet, planned, readings, work));

// A table: the operate times, with the share of the tolerance that each uses.
const times = rows.filter(({ proves, measured }) => proves === "operate-time" && measured !== undefined);
console.table(
  times.map(({ check, planned, measured, used, verdict }) => ({ check, planned, measured, used, verdict })),
);

// In the order in which the work went: ISO 8601 of one time zone sorts as text.
const dated = rows.flatMap(({ takenAt, check }) => (takenAt === undefined ? [] : [{ takenAt, check }]));
const [first] = dated.toSorted((a, b) => a.takenAt.localeCompare(b.takenAt));
console.log(`First reading: ${first?.check} at ${first?.takenAt}`);

// A plot: rows are the data of a Vega-Lite specification as they are.
const plot = {
  $schema: "https://vega.github.io/schema/vega-lite/v6.json",
  data: { values: rows.filter(({ used }) => used !== undefined) },
  mark: "point",
  encoding: {
    x: { field: "used", type: "quantitative", title: "share of the tolerance" },
    y: { field: "check", type: "nominal", sort: null },
    shape: { field: "verdict" },
  },
};
console.log(`A plot of ${plot.data.values.length} readings is ${JSON.stringify(plot).length} characters of JSON.`);
