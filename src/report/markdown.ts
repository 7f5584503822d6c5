/** A document as Markdown. Names and notes stay text, whatever they contain. */
import { oneLine } from "./account.js";
import type { Block, CellText, Handover, Section } from "./document.js";

export function asMarkdown({ title, opening, sections }: Handover): string {
  return [`# ${text(title)}`, "", ...opening.flatMap(blockLines), ...sections.flatMap(sectionLines)].join("\n");
}

const sectionLines = ({ title, depth, blocks }: Section): string[] => [
  `${"#".repeat(depth)} ${text(title)}`,
  "",
  ...blocks.flatMap(blockLines),
];

function blockLines(given: Block): string[] {
  switch (given.block) {
    case "text":
      return [given.loud ? `**${text(given.text)}**` : atStart(given.text), ""];
    case "list":
      return [...given.items.map((item) => `- ${atStart(item)}`), ""];
    case "facts":
      return table(
        ["", ""],
        given.facts.map(([name, value]) => [text(name), text(value)]),
      );
    case "table":
      return table(
        given.header.map(text),
        given.rows.map((row) => row.map(cell)),
      );
    case "figure":
      return [given.description, given.caption ?? ""]
        .filter((part) => part !== "")
        .flatMap((part) => [atStart(part), ""]);
  }
}

const cell = (given: CellText): string => (typeof given === "string" ? text(given) : `**${text(given.loud)}**`);

function table(header: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(header), line(header.map(() => "---")), ...rows.map(line), ""];
}

/** Text that opens a block: `- x` and `1. x` would open a list there, and `---` draw a line. */
const atStart = (raw: string): string =>
  text(raw)
    .trimStart()
    .replace(/^[-+]/, "\\$&")
    .replace(/^(\d+)(?=[.)](?:\s|$))/, "$1\\");

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;" };

/** Text stays text: no markup, no table cells, no links, no lines of its own. */
function text(raw: string): string {
  return oneLine(raw)
    .replace(/\s+/g, " ")
    .replace(/[\\`*_{}[\]#|~!&<>]/g, (character) => ENTITIES[character] ?? `\\${character}`)
    .replaceAll("://", "&#58;//")
    .replace(/(www)\./gi, "$1&#46;")
    .replace(/@(?=[\w-]+\.)/g, "&#64;");
}
