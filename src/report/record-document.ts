/** A record, composed for the person who must sign it: the result and the cautions first, then what needs attention. */
import type { Check, Sheet } from "../plan/index.js";
import type { TestRecord } from "../record/index.js";
import {
  checkOf,
  countsInWords,
  findingsInWords,
  type Line,
  linesOf,
  OUTCOMES,
  problemsInWords,
  RULE_IN_WORDS,
  remarkInFull,
  settingInWords,
} from "./account.js";
import { type Block, type CellText, type Handover, listed, notesAbove, paragraph, type Section } from "./document.js";
import { checkFigures, figureSections, type HandoverOptions } from "./figures.js";
import { noted } from "./notes.js";
import { CAUSES_TITLE, causesInWords } from "./possible-causes.js";
import { minutes, moment } from "./shown.js";
import { fieldsInWords } from "./typed-in-words.js";

export function recordDocument(record: TestRecord, given: HandoverOptions = {}): Handover {
  const figures = checkFigures(given);
  const lines = linesOf(record);
  return {
    title: `Relay test record: ${record.sheet.relay}`,
    opening: [{ block: "text", text: `${countsInWords(record)}.`, loud: true }, facts(record)],
    sections: [
      ...listed("Cautions", record.plan.cautions),
      attention(lines),
      ...listed("Readings not used, or not as they should be", problemsInWords(record)),
      ...listed("Settings to look at", findingsInWords(record.plan)),
      ...everyCheck(record, lines),
      ...figureSections(figures),
      howBandsCame(record),
      ...instruments(record),
      ...temporaryChanges(record),
      { title: "Decision rule", depth: 2, blocks: [paragraph(RULE_IN_WORDS[record.rule])] },
      signatures(),
    ],
    ids: record.verdicts.map(({ check }) => check),
  };
}

const facts = ({ sheet, plan }: TestRecord): Block => ({
  block: "facts",
  facts: [
    ["Substation", sheet.substation],
    ["Feeder", sheet.feeder],
    ...sheetFacts(sheet),
    ["Injection time planned", minutes(plan.totalTime)],
    ...(sheet.note === undefined ? [] : [["Note", sheet.note] as const]),
  ],
});

/** What stands on the sheet for all elements. */
export const sheetFacts = (sheet: Sheet): [name: string, value: string][] =>
  [
    ["Frequency", typeof sheet.frequency === "number" ? `${sheet.frequency} Hz` : sheet.frequency],
    ["Settings written as", `${sheet.values} values`],
    ["CT", sheet.ct],
    ["VT", sheet.vt],
    ["Ground CT", sheet.groundCt],
    ["Open-delta VT", sheet.openDeltaVt],
    ["Zone", sheet.zone && fieldsInWords(sheet.zone)],
  ].filter((fact): fact is [string, string] => fact[1] !== undefined);

/** Everything that is not within, loudest first; nothing here is left to be found in a long table. */
function attention(lines: readonly Line[]): Section {
  const title = "Needs attention";
  const rows = OUTCOMES.slice(1).flatMap((outcome) => lines.filter((line) => line.outcome === outcome));
  if (rows.length === 0)
    return { title, depth: 2, blocks: [paragraph("Nothing: every check was made and is within.")] };
  return {
    title,
    depth: 2,
    blocks: [
      {
        block: "table",
        caption: "Checks that are not within",
        header: ["Check", "Verdict", "Injected", "Expected", "Measured", "What is off"],
        rows: rows.map((line) => [
          name(line),
          verdict(line),
          line.sweeps ? "swept" : line.injected,
          line.expected,
          line.measured,
          remarkInFull(line),
        ]),
      },
    ],
  };
}

/** Element by element in the order of the sheet; what was found and what was left side by side where there is both. */
function everyCheck(record: TestRecord, lines: readonly Line[]): Section[] {
  const order = record.sheet.elements.map(({ id }) => id);
  const elements = [...new Set(lines.map(({ element }) => element))].sort(
    (a, b) => order.indexOf(a) - order.indexOf(b),
  );
  return [
    { title: "Every check", depth: 2, blocks: [] },
    ...elements.map((element): Section => {
      const own = lines.filter((line) => line.element === element);
      const table = own.some(({ stage }) => stage === "as-left") ? bothStages(own) : oneStage(own);
      return {
        title: element,
        depth: 3,
        blocks: [
          paragraph(settingInWords(record.sheet, element)),
          { block: "table", caption: `Checks of ${element}`, ...table },
          ...possibleCauses(record, element),
        ],
      };
    }),
  ];
}

function possibleCauses(record: TestRecord, element: string): Block[] {
  const items = causesInWords(record, element);
  return items.length === 0 ? [] : [paragraph(`${CAUSES_TITLE}:`), { block: "list", items }];
}

interface Table {
  readonly prose: readonly string[];
  readonly header: readonly string[];
  readonly rows: readonly (readonly CellText[])[];
}

const oneStage = (lines: readonly Line[]): Table => ({
  prose: ["Injected"],
  header: ["Check", "Injected", "Accepted", "Measured", "Error", "Tolerance used", "Verdict", "Noted"],
  rows: lines.map((line) => [
    name(line),
    line.injected,
    line.expected,
    line.measured,
    line.error,
    line.used,
    verdict(line),
    line.noted,
  ]),
});

function bothStages(lines: readonly Line[]): Table {
  const ids = [...new Set(lines.map(({ id }) => id))];
  const at = (id: string, stage: string) => lines.find((line) => line.id === id && line.stage === stage);
  return {
    prose: ["Injected"],
    header: ["Check", "Injected", "Accepted", "As found", "Verdict", "As left", "Verdict", "Noted"],
    rows: ids.map((id) => {
      const [found, left] = [at(id, "as-found"), at(id, "as-left")];
      const notes = new Set([found?.noted, left?.noted].filter((note) => note));
      const injected = ofBoth(found?.injected, left?.injected);
      const accepted = ofBoth(found?.expected, left?.expected);
      return [id, injected, accepted, ...measured(found), ...measured(left), [...notes].join("; ")];
    }),
  };
}

/** Said once where it is the same as found and as left, else for each: a reading stands beside the band that it was held against. */
function ofBoth(found: string | undefined, left: string | undefined): string {
  if (found === undefined || left === undefined || found === left) return left ?? found ?? "—";
  return `as found ${found}; as left ${left}`;
}

/** A reading with its error and the share of the tolerance that it uses, and the verdict. */
function measured(line: Line | undefined): [CellText, CellText] {
  if (line === undefined) return ["—", "—"];
  const details = [line.error, line.used === "—" ? "—" : `${line.used} of the tolerance`].filter(
    (part) => part !== "—",
  );
  return [details.length === 0 ? line.measured : `${line.measured} (${details.join(", ")})`, verdict(line)];
}

function howBandsCame({ plan, verdicts }: TestRecord): Section {
  const ids = [...new Set(verdicts.map(({ check }) => check))];
  const checks = ids.map((id) => checkOf(plan, id)).filter((check): check is Check => check !== undefined);
  const minded = noted(checks.map(({ cautions }) => cautions));
  return {
    title: "How the bands came about",
    depth: 2,
    blocks: [
      ...notesAbove(minded),
      {
        block: "table",
        caption: "The rule behind each planned band, which elements of this sheet were to be blocked, what to mind",
        header: ["Check", "Contact", "How the planned band came about", "To be blocked", "Mind"],
        prose: ["How the planned band came about", "Mind"],
        rows: checks.map(({ id, contact, because, block, injection }, i) => [
          id,
          contact,
          injection === undefined ? because.rule : `${because.rule}; injected ${injection}`,
          block.length === 0 ? "nothing" : block.join(", "),
          minded.cells[i] as string,
        ]),
      },
    ],
  };
}

function instruments({ instruments: used }: TestRecord): Section[] {
  if (used.length === 0) return [];
  const header = ["Instrument", "What it is", "Serial", "Certificate", "Calibrated", "Due"];
  const rows = used.map(({ id, description, serial, certificate, calibratedOn, dueOn }) =>
    [id, description, serial, certificate, calibratedOn, dueOn].map((text) => text ?? "—"),
  );
  const caption = "What the readings were taken with";
  return [{ title: "Instruments", depth: 2, blocks: [{ block: "table", caption, header, rows }] }];
}

function temporaryChanges({ changes }: TestRecord): Section[] {
  if (changes.length === 0) return [];
  const header = ["What was changed", "When", "Restored", "Proved by"];
  const rows = changes.map(({ what, changedAt = "—", restoredAt, proof }): CellText[] => [
    what,
    moment(changedAt),
    restoredAt === undefined ? { loud: "NOT RESTORED" } : moment(restoredAt),
    proof?.trim() ? proof : { loud: "NOT PROVED" },
  ]);
  const caption = "What was blocked or changed for the work, and how it was brought back";
  return [{ title: "Temporary changes", depth: 2, blocks: [{ block: "table", caption, header, rows }] }];
}

/** Where the people sign who made it and who checked it. */
export function signatures(): Section {
  const rows = ["Tested by", "Checked by"].map((role) => [role, "", "", ""]);
  return {
    title: "Signatures",
    depth: 2,
    blocks: [
      { block: "table", caption: "Signatures", header: ["", "Name", "Date", "Signature"], rows, blank: true },
      paragraph("The library that made this computes; a qualified person decides."),
    ],
  };
}

const name = ({ id, stage }: Line): string => (stage === "as-found" ? id : `${id}, ${stage}`);

const verdict = ({ outcome, remark }: Line): CellText =>
  outcome === "within" ? (remark === "" ? "within" : `within (${remark})`) : { loud: outcome.toUpperCase() };
