import { fail, object } from "../base/check.js";
import { decimal, toNumber } from "../base/exact.js";
import { InputError } from "../base/input-error.js";
import { checkInstant } from "../base/instant.js";
import { onOwnData } from "../base/own-data.js";
import type { Problem } from "../base/problem.js";
import { KIND_OF_UNIT, quantity, quantityExample } from "../base/quantity.js";
import { unitOfReading } from "../base/reading-unit.js";
import type { Check, Plan, Unit } from "../plan/index.js";
import { BROKEN, checkNamed } from "./check-named.js";
import { type CsvRow, parseCsv, separatorOf } from "./csv.js";
import { keyOf, READING_FIELDS, type Reading, type ReadingUncertainty, type Stage } from "./reading.js";

/** What is wrong with a reading that was given: it is not used, and the record of its check says so. */
export interface ReadingProblem extends Problem {
  /** The check that it was given for, where that could be read. */
  readonly check?: string;
  readonly stage?: Stage;
}

/** The readings that are good, and what is wrong with the others. */
export interface ReadReadings {
  readonly readings: readonly Reading[];
  readonly problems: readonly ReadingProblem[];
}

/** What is to be read is for the person who fills in the file. */
const COLUMNS = [...READING_FIELDS, "coverageFactor", "wanted"] as const;
type Column = (typeof COLUMNS)[number];
type Cells = { readonly [C in Column]?: string };

/**
 * Reads readings from text with a header line, separated by commas, or as the header is by semicolons or tabs. Columns, in any
 * order; only `check` and `value` are needed. Letter case does not matter in names, words and ids:
 *
 * - `check`: an id of the plan, such as `51P/time@3`
 * - `stage`: `as-found` (default) or `as-left`; `repeat`: 1 (default), 2, …
 * - `value`: `1.262 s`, `4.02 A`, `11 cycles`, a number in SI units, `never`, `operated`; empty or `not taken` where it was
 *   left out
 * - `injected`: the level that was really injected, where it differs from the planned one; `injectedUncertainty`: expanded
 * - `uncertainty`: expanded, in the unit of the value; `coverageFactor` of both: default 2
 * - `contact` and `operatedBy`: which contact operated, and which element did that; `instrument`: what it was read on
 * - `takenAt` (ISO 8601), `note`
 * - `wanted`: what is to be read, as `blankReadings` writes it; it is not looked at
 *
 * @param csv - The text of the file.
 * @param plan - The plan against which the readings were taken.
 * @returns Good readings in SI units, and every problem with its line and its check; a line with a problem is not among the
 * readings.
 * @throws A {@link InputError} when there is no header with the columns that are needed.
 * Accuracy: the double nearest to what was typed.
 * @source RFC 4180; common practice
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { readReadings } from "tripwright/record";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const planned = plan(readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * }));
 * const { readings, problems } = readReadings("check,value\n50P/time,5 cycles\n50P/pickup,\"39,8 A\"", planned);
 * readings.map((reading) => reading.value); // → [0.1]
 * problems.map((problem) => [problem.line, problem.code]); // → [[3, "decimal-comma"]]
 */
export function readReadings(csv: string, plan: Plan): ReadReadings {
  if (typeof csv !== "string") fail("wrong-type", "csv", "the text of a readings file", csv);
  object(plan, "plan", "a plan");
  const [header, ...rows] = parseCsv(csv);
  const columns = columnsOf(header);
  const mayCut = separatorOf(csv) === ",";
  const readings: Reading[] = [];
  const problems: ReadingProblem[] = notUtf8(rows);
  const seen = new Set<string>();
  for (const row of rows) {
    try {
      const cells = cellsOf(row, columns, mayCut);
      const reading = onOwnData("plan", "a plan, as `plan` makes it", () => readingOf(cells, plan));
      if (seen.has(keyOf(reading))) fail("duplicate", "check", "each check, stage and repeat once", keyOf(reading));
      seen.add(keyOf(reading));
      readings.push(reading);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      const about = aboutRow(row, columns, plan);
      problems.push(...error.problems.map((problem) => ({ ...problem, line: row.line, ...about })));
    }
  }
  return { readings, problems };
}

/** Said once, in front of what comes of it. */
function notUtf8(rows: readonly CsvRow[]): ReadingProblem[] {
  const row = rows.find(({ cells }) => cells.some((cell) => cell.includes(BROKEN)));
  if (row === undefined) return [];
  const received = `${BROKEN} in place of a letter; the file is not UTF-8`;
  return [{ code: "unreadable", path: "", expected: "text in UTF-8", received, line: row.line }];
}

/** Which check a row is about, and at which stage, whatever else is wrong with it. */
function aboutRow({ cells }: CsvRow, columns: readonly Column[], plan: Plan): Pick<ReadingProblem, "check" | "stage"> {
  const cell = (column: Column) => cells[columns.indexOf(column)]?.trim() ?? "";
  try {
    const { id } = checkNamed(cell("check"), plan);
    return { check: id, stage: isAsLeft(cell("stage")) ? "as-left" : "as-found" };
  } catch {
    return {};
  }
}

function columnsOf(header: CsvRow | undefined): Column[] {
  if (header === undefined) return fail("missing", "", "a header line such as check,value", "an empty file");
  const names = header.cells.map((cell) => {
    const typed = cell.trim();
    return COLUMNS.find((column) => column.toLowerCase() === typed.toLowerCase()) ?? typed;
  });
  for (const needed of ["check", "value"]) {
    if (!names.includes(needed)) fail("missing", needed, `a header line with ${needed}`, header.cells.join(","));
  }
  names.forEach((name, i) => {
    if (!COLUMNS.includes(name as Column)) fail("unknown-name", "header", `columns among ${COLUMNS.join(", ")}`, name);
    if (names.indexOf(name) !== i) fail("duplicate", "header", "each column once", name);
  });
  return names as Column[];
}

/** A comma that separates cells may cut a number with a decimal comma in two. */
function cellsOf({ cells, unclosed }: CsvRow, columns: readonly Column[], mayCut: boolean): Cells {
  if (unclosed) fail("unreadable", "", "every quote closed; this one takes in all that follows", cells.at(-1));
  if (cells.length > columns.length) {
    fail(
      "wrong-length",
      "",
      `${columns.length} cells as in the header (is a decimal comma one too many?)`,
      `${cells.length} cells`,
    );
  }
  const trimmed = cells.map((cell) => cell.trim());
  columns.forEach((column, i) => {
    // A factor is a whole number more often than not: in front of a note alone nothing else would tell.
    const isAsked = QUANTITIES.includes(column) || (column === "coverageFactor" && columns[i + 1] === "note");
    if (mayCut && isAsked) checkNoComma(column, trimmed[i] ?? "", trimmed[i + 1] ?? "");
  });
  return Object.fromEntries(columns.map((column, i) => [column, trimmed[i] ?? ""]));
}

const QUANTITIES: readonly Column[] = ["value", "injected", "injectedUncertainty", "uncertainty"];

/** `4,02 A` beside a spare column looks like 4 and a note "02 A": a bare whole number before digits may not be guessed at. */
function checkNoComma(column: Column, cell: string, next: string): void {
  if (/^[+\-−]?\d+$/u.test(cell) && /^\d+\s*[\p{L}°%/]*$/u.test(next)) {
    fail("decimal-comma", column, "a number with its unit, or is the comma a decimal one?", `${cell},${next}`);
  }
}

function readingOf(cells: Cells, plan: Plan): Reading {
  const check = checkNamed(cells.check ?? "", plan);
  const stage = stageOf(cells.stage || "as-found");
  const repeat = repeatOf(cells.repeat || "1");
  const value = measuredOf(cells.value ?? "", check, plan);
  // Where it is good for nothing it is looked at all the same.
  if (cells.coverageFactor) factorOf(cells.coverageFactor);
  return {
    check: check.id,
    stage,
    repeat,
    value,
    ...(cells.injected && { injected: injectedOf(cells.injected, check, plan) }),
    ...(cells.injectedUncertainty && {
      injectedUncertainty: statedUncertainty(cells.injectedUncertainty, cells, "injectedUncertainty", [
        check.unit,
        plan,
      ]),
    }),
    ...(cells.uncertainty && {
      uncertainty: statedUncertainty(cells.uncertainty, cells, "uncertainty", [unitOfReading(check), plan]),
    }),
    ...(cells.contact && { contact: cells.contact }),
    ...(cells.operatedBy && { operatedBy: cells.operatedBy }),
    ...(cells.instrument && { instrument: cells.instrument }),
    ...(cells.takenAt && { takenAt: checkInstant(cells.takenAt, "takenAt") }),
    ...(cells.note && { note: cells.note }),
  };
}

const isAsLeft = (text: string): boolean => /^as[- ]left$/i.test(text);

function stageOf(text: string): Stage {
  if (isAsLeft(text)) return "as-left";
  return /^as[- ]found$/i.test(text) ? "as-found" : fail("unknown-name", "stage", "as-found or as-left", text);
}

function repeatOf(text: string): number {
  return /^[1-9]\d{0,3}$/.test(text)
    ? Number(text)
    : fail("out-of-range", "repeat", "a whole number from 1 to 9999", text);
}

function measuredOf(text: string, check: Check, plan: Plan): Reading["value"] {
  const word = text.toLowerCase();
  if (word === "never" || word === "operated") return word;
  if (word === "" || word === "not taken" || word === "not-taken") return "not-taken";
  const unit = unitOfReading(check);
  // No word that is taken begins like a number, and no number like a word.
  if (!/^[+\-−]?\.?\d/u.test(text))
    fail("unreadable", "value", `${quantityExample(KIND_OF_UNIT[unit])}, or one of never, operated, not taken`, text);
  return unit === "°" ? quantity(text, "angle", "value", { bareText: true }) : sizeOf(text, unit, "value", plan);
}

function injectedOf(text: string, { proves, unit }: Check, plan: Plan): number {
  if (proves === "operate-time" || proves === "no-operation") return sizeOf(text, unit, "injected", plan);
  return fail("not-applicable", "injected", `nothing, since a ${proves} is itself the injected level`, text);
}

function statedUncertainty(
  text: string,
  { coverageFactor }: Cells,
  path: Column,
  [unit, plan]: readonly [Unit, Plan],
): ReadingUncertainty {
  const expanded = sizeOf(text, unit, path, plan);
  const factor = coverageFactor ? factorOf(coverageFactor) : 2;
  return { standard: expanded / factor, coverageFactor: factor };
}

/** A number alone: `95 %` would be a coverage probability, not a factor. */
function factorOf(text: string): number {
  const what = "a factor above 0 without a unit, such as 2";
  const factor = toNumber(decimal(text, "coverageFactor", what), "coverageFactor");
  return factor > 0 ? factor : fail("out-of-range", "coverageFactor", what, text);
}

/** Of all that is measured, an angle alone may be negative. */
function sizeOf(text: string, unit: Unit, path: string, { frequency }: Plan): number {
  const value = quantity(text, KIND_OF_UNIT[unit], path, { frequency, bareText: true });
  return value >= 0 ? value : fail("out-of-range", path, `a value of 0 ${unit} or more`, text);
}
