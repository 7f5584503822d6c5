/** `docs/ledger.md`, made from the rows of `docs/ledger/*.csv` alone. */
import { KNOWN_BY, knownBy, type LedgerRow, moduleOf, type Tables } from "./ledger-rows.js";
import type { Flag } from "./table.js";

const PREFACE = `# Ledger of published checks

Made by \`npm run ledger\` from the tables in \`test/published\`; a test fails when this page is stale. Nothing here was
first printed by the library itself.

A value is **printed** when a source prints its digits: ours has to lie within half a unit of the last digit, so a
worst difference of 0.50 is where it would fail. It is **recomputed** when the formula of the source was evaluated apart from
the library, with more digits than a double has: ours has to lie within the bound of the table, 100 % of which is where it
would fail. A **word** is a verdict or a yes or no, and has to be the same.

How a value is known stands beside each in the files below: **seen** (the source, or an open companion to it, was read), from
**memory** (recalled, with how sure), **generated** (computed from the closed form, no outside source), **invented**
(made up to try a method). Where a row says several, it is counted with the weakest. What comes from memory is evidence of
what the formula gives, not of what the standard prints: before you rely on a clause, open the standard.

Every value with source, clause, what was given, the digits, ours, the difference and what would have been accepted:
`;

/** The page. */
export function ledgerPage(rows: readonly LedgerRow[], tables: Tables, flags: readonly Flag[]): string {
  const modules = [...new Set(rows.map(({ table }) => moduleOf(table)))];
  const files = modules.map((module) => `[${module}](ledger/${module}.csv)`).join(", ");
  return [
    `${PREFACE}${files}.`,
    "## How many",
    counts(modules, rows),
    ...modules.map((module) => moduleSection(module, rows, tables)),
    "## Sources",
    details("Each source and how many values are held against it", sources(rows)),
    "## Printed values that their own formula does not give",
    `${flags.length} values of handbooks, papers and lecture notes were left out, because the formula beside them gives something else: slips, intermediate rounding, readings of a printed curve. They are never expected values.`,
    details("All of them", flagged(flags)),
    "",
  ].join("\n\n");
}

function counts(modules: readonly string[], rows: readonly LedgerRow[]): string {
  const line = (name: string, some: readonly LedgerRow[]): string[] => {
    const number = (test: (row: LedgerRow) => boolean) => String(some.filter(test).length);
    return [
      name,
      String(new Set(some.map(({ table }) => table)).size),
      ...(["printed", "recomputed", "word"] as const).map((kind) => number((row) => row.kind === kind)),
      ...KNOWN_BY.toReversed().map((word) => number((row) => knownBy(row.provenance) === word)),
    ];
  };
  return grid(
    ["module", "tables", "printed", "recomputed", "words", ...KNOWN_BY.toReversed()],
    [
      ...modules.map((module) =>
        line(
          module,
          rows.filter(({ table }) => moduleOf(table) === module),
        ),
      ),
      line("**all**", rows),
    ],
  );
}

function moduleSection(module: string, rows: readonly LedgerRow[], tables: Tables): string {
  const names = [...new Set(rows.map(({ table }) => table))].filter((table) => moduleOf(table) === module);
  const lines = names.map((name) => {
    const own = rows.filter(({ table }) => table === name);
    const of = (kind: string) => own.filter((row) => row.kind === kind);
    const [printed, recomputed] = [of("printed"), of("recomputed")];
    const worst = (some: readonly LedgerRow[]) => Math.max(...some.map(({ used }) => Number(used)));
    return [
      name.slice(module.length + 1),
      tables[name]?.about.title ?? "",
      count(printed.length),
      printed.length === 0 ? "" : (worst(printed) / 2).toFixed(2),
      count(recomputed.length),
      recomputed.length === 0 ? "" : `${Math.round(100 * worst(recomputed))} % of ${recomputed[0]?.allowed}`,
      count(of("word").length),
      KNOWN_BY.toReversed()
        .filter((word) => own.some(({ provenance }) => knownBy(provenance) === word))
        .join(", "),
    ];
  });
  const header = [
    "table",
    "what",
    "printed",
    "worst, in last digits",
    "recomputed",
    "worst, of the bound",
    "words",
    "known by",
  ];
  return `## ${module}\n\n${grid(header, lines)}`;
}

function sources(rows: readonly LedgerRow[]): string {
  const titles = [...new Set(rows.map(({ source }) => source))].toSorted();
  const lines = titles.map((title) => {
    const own = rows.filter(({ source }) => source === title);
    return [title, count(own.length), [...new Set(own.map(({ provenance }) => provenance))].join("<br>")];
  });
  return grid(["source", "values", "how it is known"], lines);
}

const flagged = (flags: readonly Flag[]): string =>
  grid(
    ["source", "clause", "row", "quantity", "printed", "its formula gives"],
    flags.map(({ id, source, quantity, printed, recomputed }) => [
      source.title,
      source.clause,
      id,
      quantity,
      printed,
      recomputed.slice(0, 12),
    ]),
  );

const count = (n: number): string => (n === 0 ? "" : String(n));

const details = (summary: string, body: string): string =>
  `<details>\n<summary>${summary}</summary>\n\n${body}\n\n</details>`;

/** A Markdown table; a pipe in a cell would end it. */
const grid = (header: readonly string[], lines: readonly (readonly string[])[]): string =>
  [header, header.map(() => "---"), ...lines]
    .map((cells) => `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |`)
    .join("\n");
