import type { TestRecord } from "../record/index.js";
import {
  countsInWords,
  findingsInWords,
  type Line,
  linesOf,
  OUTCOMES,
  oneLine,
  onRecord,
  problemsInWords,
  remarkInFull,
} from "./account.js";
import { CAUSES_TITLE, causesInLines } from "./possible-causes.js";

/**
 * A record for the terminal: how many checks are within, outside, undecided, not taken, impossible, and each that is
 * not within with what was expected, what was measured, and by how much it is out.
 *
 * @returns Plain text in lines, without colour.
 * @throws A {@link InputError} for what is no record.
 * @source design of this library
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * import { summarize } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * const record = judge(sheet, plan(sheet), [{ check: "50P/time", stage: "as-found", repeat: 1, value: 0.145 }]);
 * summarize(record).split("\n")[1]; // → "4 checks: 0 within, 1 outside, 0 undecided, 2 not taken, 1 impossible"
 */
export const summarize = (record: TestRecord): string => onRecord(record, summaryOf);

function summaryOf(record: TestRecord): string {
  const { substation, feeder, relay } = record.sheet;
  const lines = linesOf(record);
  const width = Math.max(...lines.map(({ id, stage }) => nameOf(id, stage).length));
  const sections = OUTCOMES.filter((outcome) => outcome !== "within").map((outcome) =>
    section(
      outcome.toUpperCase(),
      tellings(lines.filter((line) => line.outcome === outcome)).map(
        ([names, telling]) => `${names.join(", ").padEnd(width)}  ${telling}`,
      ),
    ),
  );
  return [
    oneLine(`${substation}, ${feeder}, ${relay}`),
    countsInWords(record),
    ...sections,
    ...section(CAUSES_TITLE.toUpperCase(), causes(record)),
    ...section("READINGS NOT USED, OR NOT AS THEY SHOULD BE", problemsInWords(record)),
    ...section("SETTINGS TO LOOK AT", findingsInWords(record.plan)),
  ]
    .flat()
    .join("\n");
}

const causes = (record: TestRecord): string[] => record.sheet.elements.flatMap(({ id }) => causesInLines(record, id));

const nameOf = (id: string, stage: string): string => oneLine(stage === "as-found" ? id : `${id}, ${stage}`);

/** What there is to say, and of which checks: the same is said once. */
function tellings(lines: readonly Line[]): [names: string[], telling: string][] {
  const told = new Map<string, string[]>();
  for (const line of lines) {
    const telling = tellingOf(line);
    told.set(telling, [...(told.get(telling) ?? []), nameOf(line.id, line.stage)]);
  }
  return [...told].map(([telling, names]) => [names, telling]);
}

function tellingOf(line: Line): string {
  const { outcome, injected, sweeps, expected, measured } = line;
  const remark = remarkInFull(line);
  if (outcome === "not taken" || outcome === "impossible") return remark;
  const at = sweeps ? "" : `at ${injected}: `;
  return `${at}expected ${expected}, measured ${measured} (${remark})`;
}

const section = (title: string, lines: readonly string[]): string[] =>
  lines.length === 0 ? [] : ["", title, ...lines.map((line) => `  ${oneLine(line)}`)];
