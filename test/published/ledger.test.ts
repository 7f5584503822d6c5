/** The ledger that people read. `npm run ledger` writes and prints it, every other run compares it. */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { ASK } from "./ask.js";
import { type Ask, type Entry, ledger } from "./harness.js";
import { ledgerPage } from "./ledger-page.js";
import { fromCsv, knownBy, type LedgerRow, ledgerRow, moduleOf, staleIn, toCsv } from "./ledger-rows.js";
import { type Flag, readJson, type Table, tableNames } from "./table.js";

const DOCS = new URL("../../docs/", import.meta.url);
const names = tableNames().toSorted();
const tables = Object.fromEntries(names.map((name) => [name, readJson<Table>(name)]));
const entries: (Entry & { readonly table: string })[] = names.flatMap((table) =>
  ledger(tables[table] as Table, ASK[table] as Ask).map((entry) => ({ table, ...entry })),
);
const now = entries.map((entry) => ledgerRow(entry.table, entry));
const modules = [...new Set(names.map(moduleOf))];
const { rows: flags } = readJson<{ readonly rows: readonly Flag[] }>("flagged");

const csvFile = (module: string) => new URL(`ledger/${module}.csv`, DOCS);
const PAGE = new URL("ledger.md", DOCS);

if (process.env["TRIPWRIGHT_WRITE"] === "ledger") {
  mkdirSync(new URL("ledger/", DOCS), { recursive: true });
  for (const module of modules)
    writeFileSync(csvFile(module), toCsv(now.filter(({ table }) => moduleOf(table) === module)));
  const page = ledgerPage(now, tables, flags);
  writeFileSync(PAGE, page);
  console.log(page);
}

describe("the ledger in docs (else: npm run ledger)", () => {
  const written = modules.flatMap((module) => fromCsv(readFileSync(csvFile(module), "utf8")));

  test("has a line for every comparison of the published checks, and no other", () => {
    const key = ({ table, id, kind, quantity }: LedgerRow) => [table, id, kind, quantity].join(" ");
    expect(written.map(key)).toEqual(now.map(key));
  });

  test("says what the comparisons say now", () => {
    expect(now.flatMap((row, i) => staleIn(written[i], row, entries[i]?.slack) ?? [])).toEqual([]);
  });

  test("is what the page is made from", () => {
    expect(readFileSync(PAGE, "utf8")).toBe(ledgerPage(written, tables, flags));
  });
});

describe("a line is stale", () => {
  const row: LedgerRow = {
    table: "curve/t",
    id: "a",
    source: "A handbook",
    clause: "Table 1",
    provenance: "seen",
    given: "M = 2",
    kind: "printed",
    quantity: "t_s",
    value: "10.03",
    ours: "10.029",
    difference: "-0.001",
    used: "0.200",
    allowed: "half a unit of the last digit",
  };
  const slack = 0.005;

  test("where nothing moved it is not, and the last bits of a power do not count", () => {
    expect(staleIn(row, row, slack)).toBeUndefined();
    expect(staleIn(row, { ...row, ours: "10.029000000000002", difference: "-0.00099" }, slack)).toBeUndefined();
  });

  test.each([
    ["is missing", undefined, row],
    ["has other digits", row, { ...row, value: "10.04" }],
    ["has another clause", row, { ...row, clause: "Table 2" }],
    ["has moved by a fiftieth of what is accepted", row, { ...row, ours: "10.0291" }],
    ["has no number any more", row, { ...row, ours: "NaN" }],
  ])("that %s", (_how, then, is) => {
    expect(staleIn(then, is, slack)).toBeDefined();
  });

  test("whose word is another one", () => {
    const word = { ...row, kind: "word", value: "pass", ours: "pass" };
    expect(staleIn(word, word, undefined)).toBeUndefined();
    expect(staleIn(word, { ...word, ours: "fail" }, undefined)).toBeDefined();
  });

  test("survives its file, with commas, quotes and lines in it", () => {
    const odd = { ...row, given: 'x = "a, b"\nand c', source: "" };
    expect(fromCsv(toCsv([row, odd]))).toEqual([row, odd]);
  });
});

test.each([
  ["seen", "SEEN (companion notebook), printed page not seen"],
  ["memory", "memory: high; k, alpha seen in general-purpose open source"],
  ["generated", "FROM MEMORY (very sure); digits GENERATED from the formula (40 digits)"],
  ["invented", "INVENTED values; method FROM MEMORY (very sure)"],
])("a row counts as %s where it says: %s", (word, provenance) => {
  expect(knownBy(provenance)).toBe(word);
});
