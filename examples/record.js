/**
 * The main job: a setting sheet and readings in, a graded record out.
 *
 *     node examples/record.js [--strict] [folder]
 *
 * The folder (default examples/tannery-lane) holds sheet.json, readings.csv and, where there is one, work.json with the
 * instruments and the temporary changes. The site card, readings to be filled in and the record as HTML, Markdown, CSV and JSON are
 * written to its subfolder output; where vega and vega-lite are installed, the figures too, by themselves and in the HTML record.
 * Where there is no readings.csv yet, the site card and the readings to be filled in are written all the same. Exits 0 when a record was written (with --strict: 1 when anything is outside), 2 when a file cannot be read or written, or an option is
 * unknown.
 */
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { parseArgs } from "node:util";
import {
  blankReadings,
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

/** What the person who started this can mend. */
class Told extends Error {}

try {
  const { strict, folder } = asked();
  const sheet = await from(join(folder, "sheet.json"), async (file) =>
    readSheet(JSON.parse(await readFile(file, "utf8"))),
  );
  const planned = plan(sheet);
  const output = join(folder, "output");
  await mkdir(output, { recursive: true });
  const toTakeAlong = {
    "site-card.html": siteCard(planned, { form: "html", sheet }),
    "site-card.md": siteCard(planned, { sheet }),
    "blank-readings.csv": blankReadings(planned),
  };
  for (const [name, text] of Object.entries(toTakeAlong)) await writeFile(join(output, name), text);

  const { readings, problems } = await from(join(folder, "readings.csv"), async (file) =>
    readReadings(await readingsIn(file, output), planned),
  );
  const judged = await from(join(folder, "work.json"), async (file) =>
    judge(sheet, planned, readings, { problems, ...(await workIn(file)) }),
  );
  const record = { ...judged, explanations: explain(judged) };

  const figures = await drawingsOf(record);
  const files = {
    // In the record a heading stands above each drawing.
    "record.html": toHtml(record, { figures: await drawingsOf(record, { titles: "beside" }) }),
    "record.md": toMarkdown(record),
    "record.csv": toCsv(record),
    "record.json": toJson(record),
    ...Object.fromEntries(figures.map(({ svg }, i) => [`figure-${i + 1}.svg`, svg])),
  };
  for (const [name, text] of Object.entries(files)) await writeFile(join(output, name), text);

  console.log(summarize(record));
  console.log(`\nWritten to ${output}: ${Object.keys({ ...toTakeAlong, ...files }).join(", ")}`);
  const anyOutside = record.verdicts.some(
    (verdict) => verdict.status === "graded" && verdict.grade.verdict === "outside",
  );
  process.exitCode = strict && anyOutside ? 1 : 0;
} catch (error) {
  const canBeMended = error instanceof Told || (error instanceof Error && "code" in error);
  if (!canBeMended) throw error;
  console.error(`No record was written. ${error.message}`);
  process.exitCode = 2;
}

/** What the command line asks for. */
function asked() {
  try {
    const { values, positionals } = parseArgs({ options: { strict: { type: "boolean" } }, allowPositionals: true });
    if (positionals.length > 1) throw new TypeError(`One folder at a time, not ${positionals.join(" and ")}`);
    return { strict: values.strict === true, folder: positionals[0] ?? "examples/tannery-lane" };
  } catch (error) {
    // Of the advice that Node adds, none fits here.
    const [what] = error instanceof Error ? error.message.split(". ") : [];
    throw new Told(`${what}: node examples/record.js [--strict] [folder]`);
  }
}

/**
 * Work on a file; what is wrong with that is told with its name.
 * @template T
 * @param {string} file
 * @param {(file: string) => Promise<T>} work
 */
async function from(file, work) {
  try {
    return await work(file);
  } catch (error) {
    if (error instanceof InputError) throw new Told(`${file}:\n${error.message}`);
    if (error instanceof SyntaxError) throw new Told(`${file} is no JSON: ${error.message}`);
    if (error instanceof Error && "code" in error) throw new Told(`${file} cannot be read: ${error.message}`);
    throw error;
  }
}

/**
 * What was read; where nothing was yet, what there is to take along.
 * @param {string} file
 * @param {string} output
 */
async function readingsIn(file, output) {
  try {
    return await readFile(file, "utf8");
  } catch (error) {
    if (!(error instanceof Error && "code" in error && error.code === "ENOENT")) throw error;
    throw new Told(
      `There is no ${file} yet. The site card and blank-readings.csv, to be filled in and saved as that, are in ${output}`,
    );
  }
}

/**
 * Instruments and temporary changes, where somebody wrote them down.
 * @param {string} file
 */
async function workIn(file) {
  try {
    return JSON.parse(await readFile(file, "utf8"));
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return {};
    throw error;
  }
}
