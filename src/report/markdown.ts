/** A document as Markdown. Names and notes stay text, whatever they contain. */
import { oneLine } from "./account.js";
import type { Block, CellText, Handover, Section } from "./document.js";

/** Raw text as Markdown that reads as it. */
type Written = (raw: string) => string;

export function asMarkdown({ title, opening, sections, ids }: Handover): string {
  const write = writtenWith(ids);
  return [
    `# ${write(title)}`,
    "",
    ...opening.flatMap((block) => blockLines(block, write)),
    ...sections.flatMap((section) => sectionLines(section, write)),
  ].join("\n");
}

const sectionLines = ({ title, depth, blocks }: Section, write: Written): string[] => [
  `${"#".repeat(depth)} ${write(title)}`,
  "",
  ...blocks.flatMap((block) => blockLines(block, write)),
];

function blockLines(given: Block, write: Written): string[] {
  const atStart = (raw: string) => startingBlock(write(raw));
  switch (given.block) {
    case "text":
      return [given.loud ? `**${write(given.text)}**` : atStart(given.text), ""];
    case "list":
      return [...given.items.map((item) => `- ${atStart(item)}`), ""];
    case "facts":
      return table(
        ["", ""],
        given.facts.map(([name, value]) => [write(name), write(value)]),
      );
    case "table":
      return table(
        given.header.map(write),
        given.rows.map((row) => row.map((cell) => cellText(cell, write))),
      );
    case "figure":
      return [given.description, given.caption ?? ""]
        .filter((part) => part !== "")
        .flatMap((part) => [atStart(part), ""]);
  }
}

const cellText = (given: CellText, write: Written): string =>
  typeof given === "string" ? write(given) : `**${write(given.loud)}**`;

function table(header: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(header), line(header.map(() => "---")), ...rows.map(line), ""];
}

/** Text that opens a block: `- x` and `1. x` would open a list there, and `---` draw a line. */
const startingBlock = (text: string): string =>
  text
    .trimStart()
    .replace(/^[-+]/, "\\$&")
    .replace(/^(\d+)(?=[.)](?:\s|$))/, "$1\\");

/**
 * Text in which the ids of checks read the same raw and rendered: they are copied into a file of readings. Where one of them does not
 * as it is, such as `49/time@1.5`, which looks like an address, all stand between backticks. An id that would end its backticks, or the
 * cell in which it stands, is written as other text is.
 */
function writtenWith(ids: readonly string[]): Written {
  const plain = ids.filter((id) => /^[^`|\s]+(?: [^`|\s]+)*$/u.test(id) && oneLine(id) === id);
  if (plain.every((id) => escaped(id) === id)) return escaped;
  const anyId = plain.map((id) => id.replace(/[\\^$.*+?()[\]{}/]/g, "\\$&")).join("|");
  const named = new RegExp(`(?<![\\p{L}\\p{N}/\`-])(${anyId})(?!\\.?[\\p{L}\\p{N}@°/\`-])`, "u");
  return (raw) =>
    oneLine(raw)
      .replace(/\s+/g, " ")
      .split(named)
      .map((part, i) => (i % 2 === 1 ? `\`${part}\`` : escaped(part)))
      .join("");
}

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;" };

/** Text stays text: no markup, no table cells, no links, no lines of its own. */
const escaped: Written = (raw) =>
  oneLine(raw)
    .replace(/\s+/g, " ")
    .replace(/[\\`*_{}[\]#|~!&<>]/g, (character) => ENTITIES[character] ?? `\\${character}`)
    .replaceAll("://", "&#58;//")
    .replace(/(www)\./gi, "$1&#46;")
    .replace(/@(?=[\w-]+\.)/g, "&#64;");
