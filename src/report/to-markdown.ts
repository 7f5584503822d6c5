import type { Check } from "../plan/index.js";
import type { TestRecord } from "../record/index.js";
import {
  checkOf,
  countsInWords,
  findingsInWords,
  type Line,
  linesOf,
  OUTCOMES,
  oneLine,
  problemsInWords,
  RULE_IN_WORDS,
  settingInWords,
} from "./account.js";
import { minutes } from "./shown.js";

/**
 * A record as Markdown, composed for the person who must sign it: the result first, cautions, what needs attention,
 * every check with expected, measured and share of tolerance, how each band came about, the decision rule, signatures.
 *
 * Names and notes stay text, whatever they contain.
 *
 * @source design of this library
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * import { toMarkdown } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * toMarkdown(judge(sheet, plan(sheet), [])).split("\n")[0]; // → "# Relay test record: F12"
 */
export function toMarkdown(record: TestRecord): string {
  const lines = linesOf(record);
  return [
    ...heading(record),
    ...attention(lines),
    ...bullets("Readings not used, or not as they should be", problemsInWords(record)),
    ...bullets("Settings to look at", findingsInWords(record)),
    ...bullets("Cautions", record.plan.cautions),
    ...everyCheck(record, lines),
    ...howBandsCame(record),
    "## Decision rule",
    "",
    RULE_IN_WORDS[record.rule],
    "",
    ...signatures(),
  ].join("\n");
}

function heading(record: TestRecord): string[] {
  const { sheet, plan } = record;
  const facts = [
    ["Substation", sheet.substation],
    ["Feeder", sheet.feeder],
    ["Frequency", typeof sheet.frequency === "number" ? `${sheet.frequency} Hz` : sheet.frequency],
    ["Settings written as", `${sheet.values} values`],
    ["CT", sheet.ct],
    ["VT", sheet.vt],
    ["Injection time planned", minutes(plan.totalTime)],
    ["Note", sheet.note],
  ].filter((fact): fact is [string, string] => fact[1] !== undefined);
  return [
    `# Relay test record: ${text(sheet.relay)}`,
    "",
    `**${countsInWords(record)}.**`,
    "",
    ...table(
      ["", ""],
      facts.map(([name, value]) => [name, text(value)]),
    ),
  ];
}

/** Everything that is not within, loudest first; nothing here is left to be found in a long table. */
function attention(lines: readonly Line[]): string[] {
  const rows = OUTCOMES.slice(1).flatMap((outcome) => lines.filter((line) => line.outcome === outcome));
  if (rows.length === 0) return ["## Needs attention", "", "Nothing: every check was made and is within.", ""];
  const header = ["Check", "Verdict", "Expected", "Measured", "What is off"];
  const cells = rows.map((line) => [
    name(line),
    loud(line),
    text(line.expected),
    text(line.measured),
    text(line.remark),
  ]);
  return ["## Needs attention", "", ...table(header, cells)];
}

function everyCheck(record: TestRecord, lines: readonly Line[]): string[] {
  const elements = [...new Set(lines.map(({ element }) => element))];
  const header = ["Check", "Injected", "Accepted", "Measured", "Error", "Tolerance used", "Verdict", "Noted"];
  return [
    "## Every check",
    "",
    ...elements.flatMap((element) => [
      `### ${text(element)}`,
      "",
      text(settingInWords(record, element)),
      "",
      ...table(
        header,
        lines
          .filter((line) => line.element === element)
          .map((line) => [
            name(line),
            text(line.injected),
            text(line.expected),
            text(line.measured),
            line.error,
            line.used,
            loud(line),
            text(line.noted),
          ]),
      ),
    ]),
  ];
}

function howBandsCame({ plan, verdicts }: TestRecord): string[] {
  const ids = [...new Set(verdicts.map(({ check }) => check))];
  const checks = ids.map((id) => checkOf(plan, id)).filter((check): check is Check => check !== undefined);
  const header = ["Check", "Contact", "How the planned band came about", "To be blocked, of this sheet", "Mind"];
  const rows = checks.map(({ id, contact, because, block, cautions }) => [
    text(id),
    text(contact),
    text(because.rule),
    text(block.length === 0 ? "nothing" : block.join(", ")),
    text(cautions.join(" ")),
  ]);
  return ["## How the bands came about", "", ...table(header, rows)];
}

function signatures(): string[] {
  const header = ["", "Name", "Date", "Signature"];
  return [
    "## Signatures",
    "",
    ...table(header, [
      ["Tested by", "", "", ""],
      ["Checked by", "", "", ""],
    ]),
    "The library that made this record computes; a qualified person decides.",
    "",
  ];
}

const bullets = (title: string, items: readonly string[]): string[] =>
  items.length === 0 ? [] : [`## ${title}`, "", ...items.map((item) => `- ${text(item)}`), ""];

function table(header: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(header), line(header.map(() => "---")), ...rows.map(line), ""];
}

const name = ({ id, stage }: Line): string => text(stage === "as-found" ? id : `${id}, ${stage}`);

const loud = ({ outcome, remark }: Line): string =>
  outcome === "within" ? (remark === "" ? "within" : `within (${remark})`) : `**${outcome.toUpperCase()}**`;

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
