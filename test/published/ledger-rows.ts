/** The comparisons of the published checks as rows of text: what `docs/ledger/<module>.csv` holds. */
import { parseCsv } from "../../src/record/csv.js";
import type { Entry } from "./harness.js";
import type { Given, Table } from "./table.js";

export const COLUMNS = [
  "table",
  "id",
  "source",
  "clause",
  "provenance",
  "given",
  "kind",
  "quantity",
  "value",
  "ours",
  "difference",
  "used",
  "allowed",
] as const;

export type LedgerRow = { readonly [C in (typeof COLUMNS)[number]]: string };

/** One line of the ledger; `used` is the difference as a share of what would have been accepted. */
export function ledgerRow(table: string, entry: Entry): LedgerRow {
  const { row, value, ours, difference, slack, allowed } = entry;
  const { title, clause, year, provenance } = row.source;
  const used = difference === undefined || slack === undefined ? undefined : shareOf(Math.abs(difference), slack);
  return {
    table,
    id: row.id,
    source: year === undefined ? title : `${title} (${year})`,
    clause,
    provenance,
    given: Object.entries(row.inputs)
      .map(([name, given]) => `${name} = ${written(given)}`)
      .join("; "),
    kind: difference === undefined ? "word" : value.kind === "printed" ? "printed" : "recomputed",
    quantity: value.place === undefined ? value.quantity : `${value.quantity}[${value.place}]`,
    value: value.digits,
    ours: String(ours ?? ""),
    difference: difference === undefined ? "" : short(difference),
    used: used === undefined ? "" : used.toFixed(3),
    allowed,
  };
}

/** Nothing used of nothing is nothing. */
const shareOf = (part: number, whole: number): number => (part === 0 ? 0 : part / whole);

const short = (x: number): string => String(Number(x.toPrecision(3)));

function written(given: Given): string {
  if (Array.isArray(given)) return `[${given.map(written).join(", ")}]`;
  if (typeof given === "object" && given !== null)
    return `{${Object.entries(given)
      .map(([name, value]) => `${name}: ${written(value)}`)
      .join(", ")}}`;
  return String(given);
}

export const toCsv = (rows: readonly LedgerRow[]): string =>
  [COLUMNS.join(","), ...rows.map((row) => COLUMNS.map((column) => cell(row[column])).join(",")), ""].join("\n");

const cell = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

export function fromCsv(text: string): LedgerRow[] {
  const [, ...rows] = parseCsv(text);
  return rows.map(({ cells }) => Object.fromEntries(COLUMNS.map((column, i) => [column, cells[i] ?? ""])) as LedgerRow);
}

/** What engines may differ in: the last bits of a double, and what is made of them. */
const MEASURED: readonly (typeof COLUMNS)[number][] = ["ours", "difference", "used"];

/**
 * What a written row says otherwise than the comparison does now; nothing where they agree. Our number may lie a
 * hundredth of what is accepted off a printed value, and twice the bound off a recomputed one: powers and logarithms
 * differ in their last bits from engine to engine.
 */
export function staleIn(written: LedgerRow | undefined, now: LedgerRow, slack: number | undefined): string | undefined {
  if (written === undefined) return `${now.table}: ${now.id}: ${now.quantity} is missing`;
  const other = COLUMNS.find((column) => written[column] !== now[column] && !MEASURED.includes(column));
  if (other !== undefined) return `${now.table}: ${now.id}: ${other}: ${written[other]}, now ${now[other]}`;
  if (slack === undefined) return written.ours === now.ours ? undefined : `${now.id}: ${written.ours}, now ${now.ours}`;
  const near = slack * (now.kind === "printed" ? 0.01 : 2);
  const moved = !(Math.abs(Number(written.ours) - Number(now.ours)) <= near);
  return moved ? `${now.table}: ${now.id}: ${now.quantity}: ${written.ours}, now ${now.ours}` : undefined;
}

/** The module that a table asks: the folder in which it lies. */
export const moduleOf = (table: string): string => table.split("/")[0] as string;

/** The words of provenance, weakest first: where a row says several, it counts with the weakest. */
export const KNOWN_BY = ["invented", "generated", "memory", "seen"] as const;

export const knownBy = (provenance: string): (typeof KNOWN_BY)[number] =>
  KNOWN_BY.find((word) => provenance.toLowerCase().includes(word)) ?? "invented";

export type Tables = { readonly [name: string]: Table };
