/** The HTML of a record and of a site card: whole, self-contained, and deaf to whatever names and notes contain. */
import fc from "fast-check";
import { plan } from "tripwright/plan";
import { judge, readReadings } from "tripwright/record";
import { siteCard, summarize, toCsv, toHtml, toJson, toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { instantaneous50, inverse51, read, undervoltage27, usual } from "../support/sheets.js";

function pages(other: object = {}, lines: readonly string[] = []) {
  const sheet = read([inverse51, undervoltage27], { source: { maximumCurrent: "50 A" }, ...other });
  const planned = plan(sheet);
  const { readings, problems } = readReadings(["check,stage,value,note", ...lines].join("\n"), planned);
  return { record: toHtml(judge(sheet, planned, readings, { problems })), card: siteCard(planned, { form: "html" }) };
}

/** Every tag in its order, by name; void elements aside. */
const tagsOf = (html: string): string[] =>
  [...html.replace(/<style>.*?<\/style>/s, "").matchAll(/<(\/?[a-z][a-z0-9]*)[^>]*>/g)]
    .map(([, name]) => name as string)
    .filter((name) => name !== "meta" && name !== "wbr");

/** The names of the elements that are opened and never closed, or closed and never opened. */
function unbalanced(html: string): string[] {
  const open: string[] = [];
  for (const tag of tagsOf(html)) {
    if (!tag.startsWith("/")) open.push(tag);
    else if (open.pop() !== tag.slice(1)) return [tag];
  }
  return open;
}

const readings = ["51P/pickup,as-found,4.25 A,", "51P/pickup,as-left,4.01 A,", "27/time,as-found,never,did not move"];

describe.each(["record", "card"] as const)("the %s", (form) => {
  const html = pages({}, readings)[form];

  test("is one whole document in English that loads nothing and runs nothing", () => {
    expect(html).toMatch(/^<!doctype html>\n<html lang="en">/);
    expect(html).not.toMatch(/<(script|link|img|iframe|object)|\son\w+=|url\(|@import|https?:/i);
    expect(html).toContain("default-src 'none'");
    expect(unbalanced(html)).toEqual([]);
  });

  test("can be read by a machine: headings in order, headers with their scope, every table with a caption and a name", () => {
    const depths = [...html.matchAll(/<h([1-6])/g)].map(([, depth]) => Number(depth));
    expect(depths[0]).toBe(1);
    for (const [i, depth] of depths.slice(1).entries()) expect(depth).toBeLessThanOrEqual((depths[i] as number) + 1);
    expect(html.match(/<table/g)?.length).toBe(html.match(/<caption>/g)?.length);
    expect(html).not.toMatch(/<th>|<th [^>]*(?<!scope="(?:col|row)")>/);
    for (const [, target] of html.matchAll(/href="#([^"]+)"/g)) expect(html).toContain(`id="${target}"`);
  });

  test("hostile names stay text, to the letter", () => {
    const nasty = [
      "<script>alert(1)</script>",
      '"><img src=x onerror=alert(1)>',
      "</title>",
      "&lt;b&gt;",
      "' onload='x",
      "<!--",
      "]]>",
    ];
    holds(
      fc.property(fc.array(fc.constantFrom(...nasty), { minLength: 1, maxLength: 3 }), (parts) => {
        const name = parts.join(" ");
        const hostile = pages({ relay: name, feeder: name, substation: name, note: name }, [
          `27/time,as-found,never,"${name.replaceAll('"', '""')}"`,
        ])[form];
        expect(unbalanced(hostile)).toEqual([]);
        expect(tagsOf(hostile)).toEqual(tagsOf(pages({ note: "x" }, ["27/time,as-found,never,x"])[form]));
        const title = /<h1>(.*?)<\/h1>/s.exec(hostile)?.[1] ?? "";
        expect(decoded(title)).toBe(form === "record" ? `Relay test record: ${name}` : `Site card: ${name}`);
      }),
      60,
    );
  });
});

function decoded(html: string): string {
  const named: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', "#39": "'" };
  return html.replace(/&(amp|lt|gt|quot|#39);/g, (_, name) => named[name] as string);
}

describe("the record", () => {
  test("shows as found and as left side by side, each with its verdict", () => {
    const row =
      /<tr><th scope="row">51P\/pickup<\/th>(?:(?!<\/tr>).)*As|<tr><th scope="row">51P\/pickup<\/th><td>3\.6(.*?)<\/tr>/s.exec(
        pages({}, readings).record,
      )?.[1] ?? "";
    expect(row).toMatch(/4\.250.*OUTSIDE.*4\.010.*within/);
  });

  test("puts the cautions before everything else", () => {
    const { record } = pages();
    expect(record.indexOf(">Cautions</h2>")).toBeLessThan(record.indexOf(">Needs attention</h2>"));
    expect(record).toContain("Never open a CT secondary");
  });
});

describe("no line ends", () => {
  const shown = (note: string) => />Note<\/dt><dd>(.*?)<\/dd>/s.exec(pages({ note }).record)?.[1];

  test.each([
    ["4.200 ohm", "4.200~ohm"],
    ["33/11 kV, 10 MVA, 250 ms, 1 mHz", "33/11~kV, 10~MVA, 250~ms, 1~mHz"],
    ["12 cycles of 0.4 Ω", "12~cycles of 0.4~Ω"],
    ["20 W, 5 var, 2 Hz/s, 8 %", "20~W, 5~var, 2~Hz/s, 8~%"],
    ["8.8 × rated", "8.8~×~rated"],
    ["42.4 A ± 0.49 A (k = 2)", "42.4~A ±~0.49~A (k~=~2)"],
    ["I2 = I, no I1", "I2 =~I, no I1"],
  ])("between a number, its sign and its unit: %s", (note, kept) => {
    expect(shown(note)).toBe(kept.replaceAll("~", "\u00a0"));
  });

  test.each(["3 Wires", "2 volts", "5 minutes", "relay A", "a % of b"])("elsewhere it may: %s", (note) => {
    expect(shown(note)).toBe(note);
  });

  test("within a date, a serial number or a terminal, whose letters stay as they are", () => {
    const whole = (text: string) => `<span class="whole">${text}</span>`;
    expect(shown("2026-11-18 10:20, at TB3-1 (meter CJ-2026-077)")).toBe(
      `${whole("2026-11-18")}\u00a010:20, at ${whole("TB3-1")} (meter ${whole("CJ-2026-077)")}`,
    );
    expect(shown("at -120°, phase-to-phase")).toBe("at -120°, phase-to-phase");
    // Longer than a narrow column.
    expect(shown(`${"x".repeat(40)}-1`)).toBe(`${"x".repeat(40)}-1`);
  });

  test("but in what is longer than any word, between whole letters", () => {
    expect(shown(`${"x".repeat(60)} y`)).toBe(`${"x".repeat(60)} y`);
    expect(shown(`${"é".repeat(61)}`)).toBe(`${"é".repeat(60)}<wbr>é`);
    expect(shown(`${"𝑥".repeat(61)}`)).toBe(`${"𝑥".repeat(60)}<wbr>𝑥`);
    expect(shown("&".repeat(61))).toBe("&amp;".repeat(61));
  });

  test("in the middle of a word", () => {
    expect(pages().card).not.toMatch(/overflow-wrap: anywhere|word-break|hyphens:/);
  });
});

test("the long id of a check may go on below, behind its slash and its sign alone; a short one stays on its line", () => {
  const zone = { form: "mho", lineAngle: "75°" };
  const distance = { id: "21-1", function: "21", watches: "phase-loops", pickup: "4 ohm", zone, operates: "forward" };
  const card = siteCard(plan(read([{ ...distance, delay: "400 ms", accuracy: usual }])), { form: "html" });
  expect(card).toContain('<th scope="row">21-1/<wbr>quiet@<wbr>reverse-AB</th>');
  expect(card).toContain('<th scope="row"><span class="whole">21-1/pickup</span></th>');
  expect(card).toMatch(/^tbody th wbr \{ white-space: normal; \}$/m);
});

describe("columns", () => {
  const headings = (html: string) => [...html.matchAll(/<th( class="prose")? scope="col">(.*?)<\/th>/g)];

  test("to write in are not pushed out by headings on one line, and those with sentences have room for them", () => {
    const { card, record } = pages({}, readings);
    const prose = (html: string) => headings(html).flatMap(([, isProse, name]) => (isProse ? [name] : []));
    expect(prose(card)).toEqual(["Inject", "Set on the source", "Mind"]);
    expect(prose(record)).toEqual(["Injected", "Injected", "How the planned band came about", "Mind"]);
    expect(/^thead th \{.*$/m.exec(card)?.[0]).not.toContain("nowrap");
    expect(card).toMatch(/^thead \.prose \{ min-width: [\d.]+rem; \}$/m);
    // No heading is much longer than what stands below it: "nothing".
    expect(headings(record).map(([, , name]) => name)).toContain("To be blocked");
  });

  test("attributes hold text alone, also of names with hyphens", () => {
    const { record } = pages({}, readings);
    for (const [, label] of record.matchAll(/(?:aria-label|alt)="([^"]*)"/g)) expect(label).not.toContain("<");
    expect(pages({ relay: "F12-3" }).record).toContain("<title>Relay test record: F12-3</title>");
  });
});

describe("the site card", () => {
  test("names each check in the order of the plan, with what is set on which channel, what to block, and boxes to write in", () => {
    const planned = plan(
      read(
        [
          inverse51,
          instantaneous50,
          { id: "46", function: "46", watches: "I2", pickup: "1 A", delay: "2 s", accuracy: inverse51.accuracy },
        ],
        { source: { currentChannels: 1 } },
      ),
    );
    const text = siteCard(planned);
    const places = planned.checks.map(({ id }) => text.indexOf(`| ${id} |`));
    expect(places.every((place) => place > 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    // I2 = I/√3 out on one phase and back on another: 1.2 A of I2 take 1.2 · √3 A.
    expect(text).toMatch(/\| 46\/time \| 1\.2 A; out on phase a.*\| i 2\.0785 A/);
    expect(text).toMatch(/\| 51P\/time@15 \| 60 A \|.*\| 50P \|.*\| {2}\| {2}\|/);
    // 400/5: 80 times as much on the primary side.
    expect(text).toMatch(/\| 51P\/time@3 \| 12 A \|[^|]*\| 960 A \|/);
  });

  test("offers a level at which nothing needs to be blocked, where there is one", () => {
    const text = siteCard(plan(read([inverse51, instantaneous50])));
    // 40 A − 5 % are 9.5 times 4 A: 8 is the highest rung below.
    expect(text).toContain("Or time it at 8 × the setting, 32 A, where 50P stays still.");
  });

  test("lists what cannot be made, and what has to be restored", () => {
    const text = siteCard(plan(read([inverse51, instantaneous50], { source: { maximumCurrent: "50 A" } })));
    expect(text).toMatch(/Not planned, and why\n\n- 51P\/time@15: needs 60 A/);
    expect(text).toMatch(/Restore, and prove it\n\n(- .*\n)*- 51P: unblock/);
  });

  test.each([
    ["no plan", [undefined], "plan"],
    ["an unknown form", [plan(read([inverse51])), { form: "pdf" }], "form"],
    ["an unknown option", [plan(read([inverse51])), { paper: "A4" }], "paper"],
  ])("%s is refused by name", (_what, given, path) => {
    expect(problemsOf(() => siteCard(...(given as Parameters<typeof siteCard>)))).toMatchObject([{ path }]);
  });
});

describe("what is no record is refused by name, in every form", () => {
  test.each([
    [undefined, "record"],
    [null, "record"],
    [{}, "sheet"],
    [{ sheet: {} }, "plan"],
    [{ sheet: {}, plan: { about: {} } }, "plan.checks"],
  ])("%j", (given, path) => {
    for (const form of [toHtml, toMarkdown, toCsv, summarize, toJson])
      expect(problemsOf(() => form(given as never))).toMatchObject([{ path }]);
  });
});
