import { nameIn, options } from "../base/check.js";
import { onOwnData } from "../base/own-data.js";
import type { Channel, Timeline } from "../base/sequence.js";
import type { Check, Plan, Sheet } from "../plan/index.js";
import { judge } from "../record/index.js";
import { checkPlan, findingsInWords, settingInWords } from "./account.js";
import { beforehand } from "./beforehand.js";
import { type Handover, listed, notesAbove, type Section } from "./document.js";
import { asHtml } from "./html.js";
import { asMarkdown } from "./markdown.js";
import { noted } from "./notes.js";
import { alternativeInWords, expectedInWords, plannedLevels, plannedOnPrimary } from "./planned.js";
import { sheetFacts, signatures } from "./record-document.js";
import { minutes } from "./shown.js";
import { onTheSource } from "./source-in-words.js";

/** How the card is printed. */
export interface SiteCardOptions {
  /** Default `"markdown"`. */
  readonly form?: "markdown" | "html";
  /** The sheet of the plan: its settings and ratios are on the card, to hold the relay against. */
  readonly sheet?: Sheet;
}

const FORMS = { markdown: asMarkdown, html: asHtml } as const;

/**
 * What to take to site: the settings of the sheet and those to look at; the checks in the order in which they are made, each with
 * its channels, levels, what stands before them and how long, band, what to block for it, and boxes for what was measured; what to
 * restore afterwards; what cannot be made, with the reason.
 *
 * @param plan - From `plan`.
 * @returns Markdown, or one self-contained HTML file that prints on paper.
 * @throws A {@link InputError} for what is no plan, for a sheet of which it is not the plan, and for unknown options.
 * @source design of this library; common practice
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { siteCard } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * siteCard(plan(sheet), { sheet }).split("\n")[0]; // → "# Site card: F12"
 */
export function siteCard(plan: Plan, given: SiteCardOptions = {}): string {
  const { form = "markdown", sheet } = options(given, ["form", "sheet"]);
  const write = FORMS[nameIn(form, FORMS, "form")];
  return onOwnData("plan", "a plan, as `plan` makes it", () => {
    checkPlan(plan);
    // No readings are judged here: a plan of other settings is refused.
    if (sheet !== undefined) judge(sheet, plan, []);
    return write(cardOf(plan, sheet));
  });
}

function cardOf(plan: Plan, sheet: Sheet | undefined): Handover {
  const { about, checks, totalTime } = plan;
  const blocked = [...new Set(checks.flatMap(({ block }) => block))];
  return {
    title: `Site card: ${about.relay}`,
    opening: [
      {
        block: "facts",
        facts: [
          ["Substation", about.substation],
          ["Feeder", about.feeder],
          ...(sheet === undefined ? [] : sheetFacts(sheet)),
          ["Checks", String(checks.length)],
          ["Injection time", minutes(totalTime)],
        ],
      },
    ],
    sections: [
      ...listed("Cautions", plan.cautions),
      ...listed("Before the first injection", [
        "Note the settings as found, and hold them against the sheet.",
        "Check the source: inject a known value and read it on an independent meter.",
      ]),
      ...(sheet === undefined ? [] : [settingsOn(sheet)]),
      ...listed("Settings to look at", findingsInWords(plan)),
      order(checks),
      wiringOf(checks),
      ...listed("Restore, and prove it", [
        ...blocked.map((id) => `${id}: unblock, and show that it is in service again`),
        "Trip and intertrip circuits, breaker-failure initiation, teleprotection and remote-control points",
        "CT shorting links, VT fuses or links",
        "Settings as left, held against the sheet",
      ]),
      ...listed(
        "Not planned, and why",
        plan.impossible.map(({ id, reason }) => `${id}: ${reason}`),
      ),
      signatures(),
    ],
    ids: [...checks, ...plan.impossible].map(({ id }) => id),
  };
}

/** One row for each element, with a box for what is found on the relay where that is something else. */
function settingsOn(sheet: Sheet): Section {
  const header = ["Element", "On the sheet", "As found, where it differs"];
  const rows = sheet.elements.map(({ id }) => [id, settingInWords(sheet, id), ""]);
  const caption = "The settings as they are written on the sheet";
  return {
    title: "Settings on the sheet",
    depth: 2,
    blocks: [{ block: "table", caption, header, rows, blank: true, prose: ["On the sheet"] }],
  };
}

/** One row for each check, in the order of the work, with boxes to write in. */
function order(checks: readonly Check[]): Section {
  const header = [
    "Check",
    "Inject",
    "Set on the source",
    "On the primary side",
    "Watch",
    "Accepted",
    "Block first",
    "Mind",
    "Really injected",
    "Measured",
  ];
  const { shared, after, first } = beforehand(checks);
  const minded = noted(checks.map((check) => [...check.cautions, ...alternativeInWords(check)]));
  const rows = checks.map((check, i) => [
    check.id,
    `${plannedLevels(check, first(check))}${after(check)}${check.injection === undefined ? "" : `; ${check.injection}`}`,
    [onTheSource(check), ...elsewhereInWords(check.timeline)].join("; "),
    plannedOnPrimary(check),
    check.contact,
    expectedInWords(check),
    check.block.length === 0 ? "nothing" : check.block.join(", "),
    minded.cells[i] || "—",
    "",
    "",
  ]);
  const caption = "The checks in the order in which they are made";
  return {
    title: "In this order",
    depth: 2,
    blocks: [
      ...notesAbove({ ...minded, notes: [...shared, ...minded.notes] }),
      { block: "table", caption, header, rows, blank: true, prose: ["Inject", "Set on the source", "Mind"] },
    ],
  };
}

/** Which channel of the source feeds which input of the relay. */
function wiringOf(checks: readonly Check[]): Section {
  const rows = new Map<string, string[]>();
  for (const { id, timeline } of checks) {
    const wired = feedsOf(timeline).map(feedsInWords).join("; ");
    rows.set(wired, [...(rows.get(wired) ?? []), id]);
  }
  return {
    title: "Connections",
    depth: 2,
    blocks: [
      {
        block: "table",
        caption: "Which channel of the source feeds which input of the relay",
        header: ["Channel to input", "For the checks"],
        rows: [...rows].map(([wired, ids]) => [wired, ids.join(", ")]),
      },
    ],
  };
}

/** Channels named as an input of the relay that go elsewhere, or there too. The only one of a source, `i` or `v`, misleads nobody. */
function elsewhereInWords(timeline: Timeline): string[] {
  const elsewhere = feedsOf(timeline).filter(
    ([name, { feeds }]) => name.length > 1 && (feeds[name] !== 1 || Object.keys(feeds).length > 1),
  );
  return elsewhere.length === 0 ? [] : [`connect ${elsewhere.map(feedsInWords).join("; ")}`];
}

/** Channels that put out nothing in the whole check need no connection. */
function feedsOf({ segments, wiring }: Timeline): [string, Channel][] {
  return Object.entries(wiring).filter(([name]) =>
    segments.some(
      ({ channels }) => channels[name] !== undefined && (channels[name].rms > 0 || channels[name].slope?.rms),
    ),
  );
}

/** Half of a voltage on one input and half against it on another is one channel across both: nobody sets halves. */
function fedInWords(feeds: Channel["feeds"]): string {
  const all = Object.entries(feeds);
  const [plus, minus] = [0.5, -0.5].map((half) => all.find(([, factor]) => factor === half)?.[0]);
  if (plus === undefined || minus === undefined) return `to ${all.map(feedInWords).join(" and ")}`;
  const others = all
    .filter(([input]) => input !== plus && input !== minus)
    .map((feed) => ` and to ${feedInWords(feed)}`);
  return `across ${plus} and ${minus} (its return not on the neutral)${others.join("")}`;
}

const feedsInWords = ([name, { feeds }]: readonly [string, Channel]): string => `${name} ${fedInWords(feeds)}`;

const feedInWords = ([input, factor]: readonly [string, number]): string => {
  if (factor === 1) return input;
  return factor === -1 ? `${input} reversed` : `${factor} × ${input}`;
};
