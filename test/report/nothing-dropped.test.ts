/** What a person who signs, or who goes to site, must find: each line by itself, so that none can be lost unseen. */
import { plan } from "tripwright/plan";
import { type JudgeOptions, judge, type Reading } from "tripwright/record";
import { siteCard, summarize, toCsv, toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { parseCsv } from "../../src/record/csv.js";
import { instantaneous50, inverse51, read, underfrequency81, undervoltage27 } from "../support/sheets.js";
import { taken } from "../support/taken.js";

const elements = [inverse51, instantaneous50, undervoltage27];
/** Above the healthy 110 V, so that it is a setting to look at. */
const restless = { ...undervoltage27, id: "27R", pickup: "115 V" };

function recordOf(readings: readonly Reading[], options: JudgeOptions = {}, other: object = {}) {
  const sheet = read([...elements, restless], other);
  return judge(sheet, plan(sheet), readings, options);
}

/** The row of a check in the table below a heading. */
const rowIn = (text: string, heading: string, id: string): string =>
  text
    .slice(text.indexOf(heading))
    .split("\n")
    .find((line) => line.startsWith(`| ${id} |`)) ?? "";

describe("the record says", () => {
  test("which transformers, and which settings to look at, the summary too", () => {
    const record = recordOf([]);
    const text = toMarkdown(record);
    expect(text).toContain("| CT | 400/5 |");
    expect(text).toContain("| VT | 11 kV/110 V |");
    expect(text).toMatch(/## Settings to look at\n\n- 27R\.pickup: expected a setting at which the element is quiet/);
    expect(summarize(record)).toMatch(/\n\nSETTINGS TO LOOK AT\n {2}27R\.pickup: expected/);
  });

  test("with what it was measured, what was changed, and loudly what is not restored or not proved", () => {
    const text = toMarkdown(
      recordOf([], {
        instruments: [{ id: "T1", description: "timer", serial: "S-9", certificate: "C-7", dueOn: "2027-01-31" }],
        changes: [
          { what: "link TB3-1 opened", changedAt: "2026-11-18T09:20" },
          { what: "link TB3-2 opened", restoredAt: "2026-11-18T14:35" },
          { what: "link TB3-3 opened", restoredAt: "2026-11-18T14:36", proof: " " },
        ],
      }),
    );
    expect(text).toContain("| T1 | timer | S-9 | C-7 | — | 2027-01-31 |");
    expect(text).toContain("| link TB3-1 opened | 2026-11-18 09:20 | **NOT RESTORED** | **NOT PROVED** |");
    expect(text).toContain("| link TB3-2 opened | — | 2026-11-18 14:35 | **NOT PROVED** |");
    expect(text).toContain("| link TB3-3 opened | — | 2026-11-18 14:36 | **NOT PROVED** |");
  });

  test("of each check what was to be blocked and to be minded", () => {
    const row = rowIn(toMarkdown(recordOf([])), "## How the bands came about", "50P/pickup");
    // 44 A on a relay of 5 A
    expect(row).toMatch(/\| 51P, 27R \| 44 A is 8\.8 × rated; the thermal rating of the input is not on the sheet/);
    for (const id of ["51P/pickup", "51P/dropout"])
      expect(rowIn(toMarkdown(recordOf([])), "## How the bands came about", id)).toMatch(
        /The start contact is watched; contact trip may operate meanwhile\./,
      );
  });

  test("once what is to be minded in more than two checks, with its number at each of them", () => {
    const startsToo = { ...inverse51, id: "51Q", pickup: "6 A", contact: "trip 2", startContact: "start 2" };
    const sheet = read([inverse51, startsToo, { ...startsToo, id: "51R", pickup: "8 A" }]);
    const record = toMarkdown(judge(sheet, plan(sheet), []));
    for (const text of [siteCard(plan(sheet)), record]) {
      // Of contact trip 2 in the pickups and the dropouts of two elements, of contact trip in those of one.
      expect(text.split("contact trip 2 may operate meanwhile")).toHaveLength(2);
      expect(text).toMatch(/^- Note \d: The start contact is watched; contact trip 2 may operate meanwhile\.$/m);
      expect(text.split("contact trip may operate meanwhile")).toHaveLength(3);
      const number = /- (Note \d): The start contact/.exec(text)?.[1];
      const heading = text === record ? "## How the bands" : "## In this order";
      for (const id of ["51Q/pickup", "51Q/dropout", "51R/pickup", "51R/dropout"])
        expect(rowIn(text, heading, id)).toContain(`${number}.`);
      expect(rowIn(text, heading, "51P/pickup")).not.toContain(`${number}.`);
    }
  });

  test("beside a check without a reading why there is none, also where it was made as left", () => {
    const sheet = read(elements, { source: { maximumCurrent: "50 A" } });
    const why = { note: "no time left" };
    const record = (more: readonly Reading[]) =>
      toMarkdown(judge(sheet, plan(sheet), [taken("51P/time@7", "not-taken", why), ...more]));
    for (const text of [record([]), record([taken("51P/pickup", 4, { stage: "as-left" })])]) {
      expect(rowIn(text, "### 51P", "51P/time@7")).toMatch(/\| no time left \|$/);
      expect(rowIn(text, "### 51P", "51P/time@15")).toMatch(/\| needs 60 A [^|]*\|$/);
    }
    const both = [taken("51P/time@7", "not-taken", { ...why, stage: "as-left" })];
    expect(rowIn(record(both), "### 51P", "51P/time@7")).toMatch(/\| no time left \|$/);
  });

  test("that pulses have rest between, and when an injection was given up", () => {
    const text = toMarkdown(recordOf([taken("27/time", "never")]));
    // As far as 10 % of 40 A to either side.
    expect(rowIn(text, "### 50P", "50P/pickup")).toMatch(/36 to 44 A, steps of .* with 2 s rest \|/);
    // 1.25 × 1.575 s, the response of 40 ms and a tenth of a second, up to whole 10 ms.
    expect(rowIn(text, "## Needs attention", "27/time")).toMatch(/given up after 2\.11 s/);
  });

  test("of how many repeats the reading is the worst, that it lies on the limit, and what operated that should not", () => {
    const text = toMarkdown(
      recordOf([
        taken("51P/time@3", 1.35),
        // 1.35 s + 5 %
        taken("51P/time@3", 1.4175, { repeat: 2 }),
        taken("51P/quiet", 0.4, { operatedBy: "51P" }),
      ]),
    );
    expect(rowIn(text, "### 51P", "51P/time@3")).toMatch(
      /1\.418 s \(worst of 1\.35, 1\.4175 s\).*\| within \(on the limit\) \|/,
    );
    expect(rowIn(text, "## Needs attention", "51P/quiet")).toMatch(
      /operated after 0\.400 s \| should have stayed quiet; 51P operated/,
    );
  });

  test("of many repeats the range, and words beside numbers", () => {
    const many = [1.31, 1.33, 1.35, 1.34, 1.32, 1.36].map((value, i) => taken("51P/time@3", value, { repeat: i + 1 }));
    expect(toMarkdown(recordOf(many))).toMatch(/\(worst of 6 from 1\.31 to 1\.36 s\)/);
    const mixed = [taken("51P/time@3", 1.35), taken("51P/time@3", "never", { repeat: 2 })];
    expect(toMarkdown(recordOf(mixed))).toMatch(/never operated \(worst of 1\.35, never\)/);
    const sheet = read([underfrequency81]);
    const frequencies = [49.0004, 49.0011].map((value, i) => taken("81U/pickup", value, { repeat: i + 1 }));
    expect(toMarkdown(judge(sheet, plan(sheet), frequencies))).toMatch(/\(worst of 49\.0004, 49\.0011 Hz\)/);
  });

  test("why a reading near the limit is not within: the guard, or too near for its uncertainty", () => {
    const uncertainty = { standard: 0.005, coverageFactor: 2 };
    const remark = (value: number, rule: "guarded" | "three-way", more: Partial<Reading> = { uncertainty }) =>
      rowIn(toMarkdown(recordOf([taken("51P/time@3", value, more)], { rule })), "## Needs attention", "51P/time@3");
    // The upper limit is 1.4175 s, the guard 0.01 s.
    expect(remark(1.415, "guarded")).toMatch(/\*\*OUTSIDE\*\*.*\| inside the limit, but not by the guard \|/);
    expect(remark(1.415, "three-way")).toMatch(/\*\*UNDECIDED\*\*.*\| too near the limit for its uncertainty \|/);
    expect(remark(1.42, "three-way")).toMatch(/\| 0\.0025 s too long, but too near the limit for its uncertainty \|/);
    expect(remark(1.42, "three-way", {})).toMatch(/but no uncertainty is given to decide with \|/);
  });
});

test("the CSV holds the expanded uncertainty, by how much a reading is out, and why one is missing", () => {
  const [header, ...rows] = parseCsv(
    toCsv(
      recordOf([
        taken("51P/time@3", 1.5, { uncertainty: { standard: 0.002, coverageFactor: 2 } }),
        taken("51P/time@7", "not-taken", { note: "no time left" }),
      ]),
    ),
  );
  const cell = (id: string, column: string) =>
    rows.find(({ cells }) => cells[0] === id)?.cells[header!.cells.indexOf(column)];
  expect(cell("51P/time@3", "expandedUncertainty")).toBe("0.004");
  // 1.5 s − 1.4175 s
  expect(Number(cell("51P/time@3", "outsideBy"))).toBeCloseTo(0.0825, 12);
  expect(cell("51P/time@7", "note")).toBe("no time left");
});

describe("the site card says", () => {
  const card = (channels: 1 | 3) =>
    siteCard(
      plan(
        read(
          [
            ...elements,
            { id: "46", function: "46", watches: "I2", pickup: "1 A", delay: "2 s", accuracy: inverse51.accuracy },
          ],
          { source: { currentChannels: channels } },
        ),
      ),
    );

  test("every caution of the plan, and all that is to be restored", () => {
    const text = card(3);
    for (const caution of plan(read(elements)).cautions) expect(text).toContain(`- ${caution}`);
    expect(text).toContain("- CT shorting links, VT fuses or links");
    expect(text).toContain("- Trip and intertrip circuits, breaker-failure initiation, teleprotection");
    expect(text).toContain("- Settings as left, held against the sheet");
  });

  test("from where to where pulses go, and no channel that puts out nothing", () => {
    expect(rowIn(card(3), "## In this order", "50P/pickup")).toMatch(/\| ia, ib, ic 36 to 44 A at 0, -120, 120°; va/);
    expect(rowIn(card(3), "## In this order", "27/time")).toMatch(/\| va, vb, vc 40\.645 V at 0, -120, 120°; 50 Hz \|/);
    expect(card(3)).toMatch(/\| va to va; vb to vb; vc to vc \| [^|]*27\/time/);
  });

  test("the frequency that is set to every digit of the plan: 0.5 mHz beyond 49 Hz + 5 mHz, on which a relay that is right may start", () => {
    const fine = { ...underfrequency81, accuracy: { pickup: { absolute: "5 mHz" }, time: { percent: 5 } } };
    const text = siteCard(plan(read([fine], { source: { accuracy: { frequency: { absolute: "0.5 mHz" } } } })));
    expect(rowIn(text, "## In this order", "81U/quiet")).toMatch(/\| 49\.0055 Hz \| .*120°; 49\.0055 Hz \|/);
  });

  test("where a current goes back through another phase", () => {
    expect(card(1)).toMatch(/\| i to ia and ib reversed; va to va; vb to vb; vc to vc \| [^|]*46\/time/);
  });
});

test("a plan without a caution that belongs to every piece of this work is no plan", () => {
  const cautions = plan(read(elements)).cautions.join("\n");
  for (const must of [
    "released to you, isolated and proved",
    "breaker-failure initiation",
    "Never open a CT secondary: short it first",
    "VT secondary fuses",
    "thermal limits",
    "One person controls the source",
    "prove that it is restored",
  ])
    expect(cautions).toContain(must);
});
