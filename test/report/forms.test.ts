/** What the forms of a record say, and what they must never let through. */
import fc from "fast-check";
import { marked } from "marked";
import { plan } from "tripwright/plan";
import { judge, readReadings, type TestRecord } from "tripwright/record";
import { siteCard, summarize, toCsv, toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { parseCsv } from "../../src/record/csv.js";
import { holds } from "../support/holds.js";
import { instantaneous50, inverse51, read, undervoltage27 } from "../support/sheets.js";

function record(lines: readonly string[], other: object = {}): TestRecord {
  const sheet = read([inverse51, undervoltage27], { source: { maximumCurrent: "50 A" }, ...other });
  const planned = plan(sheet);
  const { readings, problems } = readReadings(["check,value,injected,note", ...lines].join("\n"), planned);
  return judge(sheet, planned, readings, { problems });
}

const whole = record([
  "51P/pickup,4.25 A,,",
  "51P/time@3,1.30 s,,",
  "51P/time@7,0.5 s,,",
  "27/time,never,,contact did not move",
  '27/pickup,"88,1 V",,',
]);

describe("the summary", () => {
  const lines = summarize(whole).split("\n");

  test("counts every outcome; what was not taken is not within", () => {
    // 4 A + 5 % = 4.2 A; 1.35 s ± 5 %; 0.45 s ± 40 ms; 51P/time@15 needs 60 A
    // Each element has a pickup, a dropout, a level at which it stays quiet, and its times: 6 and 4.
    expect(lines[1]).toBe("10 checks: 1 within, 3 outside, 0 undecided, 5 not taken, 1 impossible");
  });

  test("says for each that is outside what was expected, what was measured and by how much it is out", () => {
    const text = lines.join("\n");
    expect(text).toMatch(/51P\/pickup +expected 3\.800 to 4\.200 A, measured 4\.250 A \(0\.05 A too high\)/);
    expect(text).toMatch(/51P\/time@7 +at 28 A: expected 0\.410 to 0\.490 s, measured 0\.500 s \(0\.01 s too long\)/);
    expect(text).toMatch(/27\/time +at 70\.4 V: expected 1\.425 to 1\.575 s, measured never operated \(given up after/);
  });

  test("names what was not taken, what is impossible and what could not be read, with its line", () => {
    const text = lines.join("\n");
    expect(text).toMatch(/NOT TAKEN\n.*27\/pickup/);
    expect(text).toMatch(/IMPOSSIBLE\n {2}51P\/time@15 +needs 60 A/);
    expect(text).toMatch(
      /line 6: 27\/pickup, value: expected a voltage such as "63\.5 V", with a decimal point, received "88,1 V"/,
    );
  });

  test("of a record without fault is two lines", () => {
    const fine = record(
      [
        "51P/pickup,4 A",
        "51P/dropout,3.8 A",
        "51P/quiet,never",
        "51P/time@3,1.35 s",
        "51P/time@7,0.45 s",
        "51P/time@15,193 ms",
        "27/pickup,88 V",
        "27/dropout,92.4 V",
        "27/quiet,never",
        "27/time,1.5 s",
      ],
      { source: {} },
    );
    expect(summarize(fine).split("\n")).toHaveLength(2);
  });
});

describe("Markdown", () => {
  const text = toMarkdown(whole);

  test("opens with the result and the cautions, then what needs attention", () => {
    const order = [
      "# Relay test record: F12",
      "3 outside",
      "## Cautions",
      "## Needs attention",
      "## Readings not used",
      "## Every check",
      "## How the bands came about",
      "## Decision rule",
      "## Signatures",
    ];
    const places = order.map((part) => text.indexOf(part));
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(places[0]).toBe(0);
  });

  test("shows a check with expected, measured, error, share of the tolerance and verdict", () => {
    // 1.30 s against 1.35 s: −0.05 s, −3.7 %, 0.05/0.0675 of the tolerance
    expect(text).toContain("| 51P/time@3 | 12 A | 1.283 to 1.417 s | 1.300 s | -0.05 s (-3.7 %) | 74.1 % | within |");
  });

  test("says 100 % of what is on the limit alone, and no error of what has nothing nominal", () => {
    const sheet = read([inverse51, instantaneous50]);
    const cells = (check: string, value: number) => {
      const [line = ""] = toMarkdown(judge(sheet, plan(sheet), [{ check, stage: "as-found", repeat: 1, value }]))
        .split("\n")
        .filter((row) => row.startsWith(`| ${check} |`) && row.split("|").length > 8);
      return line
        .split("|")
        .map((cell) => cell.trim())
        .slice(5, 7);
    };
    // 4 A ± 5 %.
    expect(cells("51P/pickup", 4.2)).toEqual(["+0.2 A (+5 %)", "100 %"]);
    expect(cells("51P/pickup", 4.2001)).toEqual(["+0.2 A (+5 %)", "100.05 %"]);
    expect(cells("51P/pickup", 3.8002)).toEqual(["-0.2 A (-5 %)", "99.9 %"]);
    // At once, at most 40 ms.
    expect(cells("50P/time", 0.0401)).toEqual(["—", "100.3 %"]);
  });

  test("repeats the setting as it is written, and when and with what note a reading was taken", () => {
    expect(text).toContain(
      "function 51, pickup 4 A, curve iec-very-inverse, time multiplier 0.2, start contact named start, dropout ratio 0.95",
    );
    expect(text).toMatch(/\| 27\/time \|.*\| contact did not move \|/);
  });

  test("prints the uncertainty, and says where one is missing", () => {
    const sheet = read([inverse51], { decisionRule: "three-way" });
    const readings = [
      { check: "51P/pickup", stage: "as-found", repeat: 1, value: 4.02 } as const,
      {
        check: "51P/time@3",
        stage: "as-found",
        repeat: 1,
        value: 1.35,
        uncertainty: { standard: 0.001, coverageFactor: 2 },
      } as const,
    ];
    const out = toMarkdown(judge(sheet, plan(sheet), readings));
    expect(out).toContain("1.350 s ± 0.002 s (k = 2)");
    expect(out).toContain("no uncertainty is given to decide with");
  });

  test.each([
    [4.1, 0.49, "4.10 A ± 0.49 A"],
    [4.1, 12, "4.1 A ± 12 A"],
    [4, 12, "4 A ± 12 A"],
    [4.123, 0.49, "4.123 A ± 0.49 A"],
    [4.1, 0.0012, "4.100 A ± 0.0012 A"],
    // A second digit that is a zero is a digit, where it was rounded to that.
    [4.1, 0.1045, "4.10 A ± 0.10 A"],
    [4.1, 0.1, "4.1 A ± 0.1 A"],
    [4.1, 0.00996, "4.100 A ± 0.010 A"],
    [4.1, 19.7, "4.1 A ± 20 A"],
  ])(
    "a reading of %f A with ± %f A has no zeros beyond that, and keeps its other digits",
    (value, expanded, printed) => {
      const sheet = read([inverse51]);
      const uncertainty = { standard: expanded / 2, coverageFactor: 2 };
      const reading = { check: "51P/pickup", stage: "as-found", repeat: 1, value, uncertainty } as const;
      expect(toMarkdown(judge(sheet, plan(sheet), [reading]))).toContain(`| ${printed} (k = 2) |`);
    },
  );

  test("makes what is not within loud", () => {
    expect(text).toMatch(/\| 27\/time \| \*\*OUTSIDE\*\* \|/);
    expect(text).toMatch(/\| 27\/pickup \| \*\*NOT TAKEN\*\* \|/);
    expect(text).toMatch(/\| 51P\/time@15 \| \*\*IMPOSSIBLE\*\* \|/);
  });

  test("a check that was made again as left is one check, and says whether it still is off", () => {
    const sheet = read([inverse51], { source: { maximumCurrent: "50 A" } });
    const at3 = { check: "51P/time@3", repeat: 1 } as const;
    const made = judge(sheet, plan(sheet), [
      // 13.5/(11.2/4 − 1) · 0.2 s = 1.5 s, and 1.35 s at 12 A
      { ...at3, stage: "as-found", value: 1.6, injected: 11.2 },
      { ...at3, stage: "as-left", value: 1.35 },
      { check: "51P/time@7", stage: "as-left", repeat: 1, value: 9 },
    ]);
    const lines = summarize(made).split("\n");
    expect(lines[1]).toBe("6 checks, 2 again as left: 1 within, 2 outside, 0 undecided, 4 not taken, 1 impossible");
    expect(lines.find((line) => line.startsWith("  51P/time@3"))).toMatch(/\(0\.025 s too long; as left within\)$/);
    expect(lines.find((line) => line.startsWith("  51P/time@7 "))).toMatch(/no reading given|as left outside$/);
    const text = toMarkdown(made);
    expect(text).toMatch(/\| 51P\/time@3 \| \*\*OUTSIDE\*\* \| 11\.2 A \(planned 12 A\) \| 1\.425 to 1\.575 s \|/);
    // Each reading beside the level and the band that it was held against.
    expect(text).toContain(
      "| 51P/time@3 | as found 11.2 A (planned 12 A); as left 12 A | as found 1.425 to 1.575 s; as left 1.283 to 1.417 s | 1.600 s (+0.1 s (+6.67 %), 133 % of the tolerance) |",
    );
    expect(text).toMatch(/\| 51P\/time@7 \| 28 A \| 0\.410 to 0\.490 s \| — \|/);
  });

  test("says what was really injected beside what was planned", () => {
    expect(toMarkdown(record(["51P/time@3,1.3 s,11.9 A,"]))).toContain("| 51P/time@3 | 11.9 A (planned 12 A) |");
  });

  test("every table row has as many cells as its header, whatever names contain", () => {
    const hostile = fc.string({
      unit: fc.constantFrom("|", "\\", "`", "*", "<", ">", "&", "\n", "#", "[", "]", "_", "a", " "),
    });
    holds(
      fc.property(
        hostile.filter((name) => name !== ""),
        (feeder) => {
          const tables = toMarkdown(record([], { feeder }))
            .split("\n\n")
            .filter((block) => block.startsWith("|"));
          for (const table of tables) {
            const counts = table
              .trim()
              .split("\n")
              .map((row) => row.replaceAll(/\\./g, "").split("|").length);
            expect(new Set(counts).size).toBe(1);
          }
        },
      ),
      50,
    );
  });

  test("no text opens a list, or draws a line, where a block begins with it", () => {
    for (const path of ["- x", "+ x", "1. x", "12) x", "---", "-", "1."]) {
      const problems = [{ code: "conflict", path, expected: "y", received: "z" }] as const;
      const html = marked.parse(toMarkdown(judge(read([inverse51]), plan(read([inverse51])), [], { problems })), {
        async: false,
      });
      expect(html).toContain(`<li>${path}: expected y, received z</li>`);
    }
  });

  describe("the id of a check reads the same raw and rendered, so that it can be copied into a file of readings", () => {
    const rendered = (text: string) => marked.parse(text, { async: false });

    test("one that looks like an address, in cells and in sentences", () => {
      const thermal = {
        ...inverse51,
        id: "49",
        function: "49",
        watches: "phase",
        curve: { form: "thermal", tau: "600 s" },
      };
      const sheet = read([thermal]);
      const planned = plan(sheet);
      expect(planned.checks.map(({ id }) => id)).toContain("49/time@1.5");
      const problem = { code: "unreadable", path: "value", expected: "a time", received: "x" } as const;
      const problems = [{ ...problem, check: "49/time@1.5", stage: "as-found" } as const];
      for (const text of [siteCard(planned), toMarkdown(judge(sheet, planned, [], { problems }))]) {
        expect(text).toContain("49/time@1.5");
        expect(text).not.toContain("49/time&");
        expect(rendered(text)).toContain("<code>49/time@1.5</code>");
        expect(rendered(text)).not.toMatch(/<a |mailto/);
        // Next to it the others look the same.
        expect(text).toContain("| `49/time@4` |");
      }
      expect(rendered(toMarkdown(judge(sheet, planned, [], { problems })))).toContain(
        "<li><code>49/time@1.5</code>, value: expected a time",
      );
    });

    test("whatever the name of the element, and no name begins or ends a piece of code that is none", () => {
      const parts = ["I>", "_a_", "*", "`", "``", "|", "<b>", "&", "@b.c", "\\", " ", "[x](y)", "$1", "°"];
      holds(
        fc.property(fc.array(fc.constantFrom(...parts), { minLength: 1, maxLength: 5 }), (names) => {
          const id = `x${names.join("")}x`.replace(/ +/g, " ");
          const planned = plan(read([{ ...inverse51, id }]));
          const html = rendered(siteCard(planned));
          const cells = [...html.matchAll(/<tr>\s*<td>(.*?)<\/td>/gs)].map(([, cell = ""]) =>
            plainText(cell.replace(/^<code>(.*)<\/code>$/s, "$1")),
          );
          for (const check of planned.checks) expect(cells).toContain(check.id);
          if (!/[`|]/.test(id)) expect(siteCard(planned)).toContain(`${id}/time@3`);
        }),
        60,
      );
    });
  });

  test("hostile text stays text, to the letter", () => {
    const nasty = [
      "<script>",
      "[x](http://example.com)",
      "**b**",
      "`c`",
      "|",
      "\\",
      "&amp;",
      "~~s~~",
      "www.example.com",
      "a@example.com",
      "![i](u)",
      "# h",
      "_e_",
      "<!--",
      "> q",
    ];
    holds(
      fc.property(fc.array(fc.constantFrom(...nasty), { minLength: 1, maxLength: 4 }), (parts) => {
        const feeder = parts.join(" ");
        const html = marked.parse(toMarkdown(record([], { feeder })), { async: false });
        const cell = /<td>Feeder<\/td>\s*<td>(.*?)<\/td>/s.exec(html)?.[1] as string;
        expect(plainText(cell)).toBe(feeder);
      }),
      100,
    );
  });
});

/** The text of HTML without any element in it; an element would be left standing, and fail the comparison. */
function plainText(html: string): string {
  const named: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"' };
  if (/<[a-z!/]/i.test(html)) return html;
  return html
    .replace(/&#(\d+);/g, (_, code) => String.fromCodePoint(Number(code)))
    .replace(/&(amp|lt|gt|quot);/g, (_, name) => named[name] as string);
}

/** The note of a check in the CSV of a record: the last cell of its row. */
const noteOf = (check: string, of: TestRecord): string | undefined =>
  parseCsv(toCsv(of))
    .find(({ cells }) => cells[0] === check)
    ?.cells.at(-1);

describe("CSV", () => {
  const rows = parseCsv(toCsv(whole)).map(({ cells }) => cells);
  const column = (name: string) => rows[0]?.indexOf(name) as number;
  const rowOf = (check: string) => rows.find((cells) => cells[0] === check) as string[];

  test("has one row for each reading and each check without any, all of one width", () => {
    expect(rows).toHaveLength(1 + 10);
    expect(new Set(rows.map((cells) => cells.length)).size).toBe(1);
  });

  test("ends its lines as RFC 4180 says", () => {
    expect(toCsv(whole).replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  });

  test("keeps numbers as numbers, with every digit", () => {
    expect(Number(rowOf("51P/time@3")[column("error")])).toBe(-0.05);
    expect(rowOf("51P/time@3")[column("low")]).toBe("1.2825");
    expect(rowOf("27/time")[column("measured")]).toBe("never");
  });

  test("text that a spreadsheet would run as a formula is neutralised", () => {
    for (const note of ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", " =1", "＝1"]) {
      const line = `51P/pickup,4 A,,"${note}"`;
      expect(noteOf("51P/pickup", record([line]))).toMatch(/^'/);
    }
  });

  test("quotes, separators and line ends in notes come back", () => {
    const note = 'said "no", twice\nand left';
    const line = `51P/pickup,4 A,,"${note.replaceAll('"', '""')}"`;
    expect(noteOf("51P/pickup", record([line]))).toBe(note);
  });
});

describe("control characters", () => {
  test("neither begin lines of their own nor reach a terminal", () => {
    const feeder = "Tannery\u001b[31m\r\n  OUTSIDE\u2028 \u202elane";
    const [first] = summarize(record([], { feeder })).split("\n");
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must not be there
    expect(first).not.toMatch(/[\u0000-\u001f\u2028\u202e]/);
    expect(first).toContain("OUTSIDE");
  });
});
