/** Tables of published and reference values: their shape, and what makes one unfit to be used. */
import { readdirSync, readFileSync } from "node:fs";
import type { Bound } from "./digits.js";

/** Where a value comes from. */
export interface Source {
  readonly title: string;
  readonly clause: string;
  readonly year?: number;
  /** How it is known; has one of the words of {@link PROVENANCE}. */
  readonly provenance: string;
}

/** What the source gives, as it writes it. */
export type Given = string | number | boolean | null | readonly Given[] | Inputs;
export interface Inputs {
  readonly [name: string]: Given;
}

/** Digits or a word ("pass", "true") by quantity; a list where the quantity is one. */
export interface Values {
  readonly [quantity: string]: string | readonly string[];
}

/** One case of a source. */
export interface Row {
  readonly id: string;
  readonly source: Source;
  readonly inputs: Inputs;
  /** As printed: compared within half a unit of the last digit. */
  readonly printed?: Values;
  /** Recomputed from the formula with more digits than a double has: compared within the bound of the table. */
  readonly exact?: Values;
}

export interface Table {
  readonly about: {
    readonly title: string;
    readonly source: string;
    readonly provenance: string;
    readonly bound?: Bound & { readonly reason: string };
  };
  /** How many rows there are. */
  readonly count: number;
  /** How many printed and exact values they hold. */
  readonly values: number;
  readonly rows: readonly Row[];
}

/** How many rows and values somebody expects, written down apart from the table. */
export interface Size {
  readonly rows: number;
  readonly values: number;
}

/** A printed value that its own formula does not give. */
export interface Flag {
  readonly id: string;
  readonly source: Source;
  readonly quantity: string;
  readonly printed: string;
  readonly recomputed: string;
}

const PROVENANCE = /\b(seen|memory|generated|invented)\b/i;

/** The table, or an error that says why it cannot be used: a row or a value lost, or a row that hides its source. */
export function checkTable(name: string, table: Table, expected: Size): Table {
  const size: Size = { rows: table.rows.length, values: table.rows.flatMap(valuesOf).length };
  refuseOther(name, "rows", size.rows, table.count, expected.rows);
  refuseOther(name, "values", size.values, table.values, expected.values);
  const ids = new Set<string>();
  for (const row of table.rows) {
    if (ids.has(row.id)) throw new Error(`${name}: ${row.id} stands there twice`);
    ids.add(row.id);
    checkSource(`${name}: ${row.id}`, row.source);
    if (valuesOf(row).length === 0) throw new Error(`${name}: ${row.id} has no value to compare with`);
  }
  const { title, source, provenance, bound } = table.about;
  if (!title || !source || !provenance) throw new Error(`${name} does not say what it is and where it comes from`);
  if (bound !== undefined && !bound.reason) throw new Error(`${name}: the bound gives no reason`);
  return table;
}

function refuseOther(name: string, what: string, found: number, declared: number, expected: number): void {
  if (found !== declared || found !== expected)
    throw new Error(`${name}: ${found} ${what}, the table declares ${declared}, the test expects ${expected}`);
}

function checkSource(where: string, { title, clause, provenance }: Source): void {
  if (!title || !clause) throw new Error(`${where} names no source`);
  if (!PROVENANCE.test(provenance)) throw new Error(`${where} does not say whether it was seen or remembered`);
}

/** One value of a row, lists taken apart. */
export interface Value {
  readonly kind: "printed" | "exact";
  readonly quantity: string;
  /** Its place, where the quantity is a list. */
  readonly place?: number;
  readonly digits: string;
}

export function valuesOf(row: Row): Value[] {
  return (["printed", "exact"] as const).flatMap((kind) =>
    Object.entries(row[kind] ?? {}).flatMap(([quantity, value]) =>
      typeof value === "string"
        ? [{ kind, quantity, digits: value }]
        : value.map((digits, place) => ({ kind, quantity, place, digits })),
    ),
  );
}

/** The printed values of a table that are known not to follow from their own formula. */
export function flaggedIn(table: Table, flags: readonly Flag[]): string[] {
  const known = new Set(flags.map(({ id, quantity }) => `${id}: ${quantity}`));
  return table.rows.flatMap((row) =>
    Object.keys(row.printed ?? {})
      .map((quantity) => `${row.id}: ${quantity}`)
      .filter((name) => known.has(name)),
  );
}

const FOLDER = new URL(".", import.meta.url);

/** Reads `<name>.json` from this folder. */
export function readJson<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`${name}.json`, FOLDER), "utf8")) as T;
}

/** The names of all tables in the folders of the families: "curve/operate-time", … */
export function tableNames(): string[] {
  return readdirSync(FOLDER, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .flatMap(({ name }) =>
      readdirSync(new URL(`${name}/`, FOLDER))
        .filter((file) => file.endsWith(".json"))
        .map((file) => `${name}/${file.slice(0, -".json".length)}`),
    );
}
