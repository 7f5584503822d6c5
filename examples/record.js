/**
 * The main job: a setting sheet and readings in, a graded record out.
 *
 *     node examples/record.js [--strict] [folder]
 *
 * The folder (default examples/tannery-lane) holds sheet.json, readings.csv and, where there is one, work.json with the
 * instruments and the temporary changes. The record as HTML, Markdown, CSV and JSON and the site card are written to its
 * subfolder output; where vega and vega-lite are installed, the figures too, by themselves and in the HTML record. Exits 0 when a record was written (with --strict: 1 when anything is outside), 2 when sheet or
 * readings cannot be read.
 */
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { parseArgs } from "node:util";
import {
  explain,
  InputError,
  judge,
  plan,
  readReadings,
  readSheet,
  siteCard,
  summarize,
  toCsv,
  toHtml,
  toJson,
  toMarkdown,
} from "tripwright";
import { drawingsOf } from "./figures.js";

const { values, positionals } = parseArgs({
  options: { strict: { type: "boolean", default: false } },
  allowPositionals: true,
});
const folder = positionals[0] ?? "examples/tannery-lane";

try {
  const sheet = readSheet(JSON.parse(await readFile(join(folder, "sheet.json"), "utf8")));
  const planned = plan(sheet);
  const { readings, problems } = readReadings(await readFile(join(folder, "readings.csv"), "utf8"), planned);
  const judged = judge(sheet, planned, readings, { problems, ...(await workIn(folder)) });
  const record = { ...judged, explanations: explain(judged) };

  const output = join(folder, "output");
  await mkdir(output, { recursive: true });
  const figures = await drawingsOf(record);
  const files = {
    "site-card.html": siteCard(planned, { form: "html" }),
    "site-card.md": siteCard(planned),
    "record.html": toHtml(record, { figures }),
    "record.md": toMarkdown(record),
    "record.csv": toCsv(record),
    "record.json": toJson(record),
    ...Object.fromEntries(figures.map(({ svg }, i) => [`figure-${i + 1}.svg`, svg])),
  };
  for (const [name, text] of Object.entries(files)) await writeFile(join(output, name), text);

  console.log(summarize(record));
  console.log(`\nWritten to ${output}: ${Object.keys(files).join(", ")}`);
  const anyOutside = record.verdicts.some(
    (verdict) => verdict.status === "graded" && verdict.grade.verdict === "outside",
  );
  process.exitCode = values.strict && anyOutside ? 1 : 0;
} catch (error) {
  const cannotRead =
    error instanceof InputError || error instanceof SyntaxError || (error instanceof Error && "code" in error);
  if (!cannotRead) throw error;
  console.error(`Nothing was written: ${folder} cannot be read.\n${error instanceof Error ? error.message : error}`);
  process.exitCode = 2;
}

/**
 * Instruments and temporary changes, where somebody wrote them down.
 * @param {string} folder
 */
async function workIn(folder) {
  try {
    return JSON.parse(await readFile(join(folder, "work.json"), "utf8"));
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return {};
    throw error;
  }
}
