/** Drawings in a record: shapes and text come through, nothing that could run, load or restyle does. */
import fc from "fast-check";
import { plan } from "tripwright/plan";
import { judge } from "tripwright/record";
import { type HandoverOptions, type ReportFigure, toHtml, toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { inverse51, read } from "../support/sheets.js";

const sheet = read([inverse51]);
const record = judge(sheet, plan(sheet), []);
const drawing = (inside: string, attributes = "") =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"${attributes}>${inside}</svg>`;
const figure = (svg: string, more: Partial<ReportFigure> = {}): ReportFigure => ({
  title: "Times",
  svg,
  description: "Times over multiples.",
  ...more,
});
const html = (...figures: ReportFigure[]) => toHtml(record, { figures });

/** The drawing as it stands in the page, decoded. */
function imageIn(page: string): string {
  const [, source = ""] = /<img alt="[^"]*" src="data:image\/svg\+xml;charset=utf-8,([^"]*)">/.exec(page) ?? [];
  return decodeURIComponent(source);
}

describe("a drawing", () => {
  test("comes through to the letter, as an image with its description", () => {
    const svg = drawing(
      '<g class="a" aria-label="q &quot; &lt;b&gt;"><path d="M0,0L5,5" stroke="#0072B2"/><text x="1" font-family="&quot;A B&quot;, serif">100 % ≥ µ &amp; "x"</text></g>',
    );
    const page = html(figure(svg, { caption: "As left <b>" }));
    expect(imageIn(page)).toBe(svg);
    expect(page).toContain('<img alt="Times over multiples." src=');
    expect(page).toContain("<figcaption>As left &lt;b&gt;</figcaption>");
    expect(page).toContain(">Figures</h2>");
    expect(page).toContain(">Times</h3>");
  });

  test("loads nothing: no address but its own data, which the page allows for images alone", () => {
    const page = html(figure(drawing('<rect width="1" height="1"/>')));
    expect(page).toContain("default-src 'none'; style-src 'unsafe-inline'; img-src data:");
    expect(page).not.toMatch(/https?:|<svg|<script/i);
    expect(toHtml(record)).not.toContain("img-src");
  });

  test("stands in Markdown as its description", () => {
    const text = toMarkdown(record, { figures: [figure(drawing("<g></g>"), { caption: "As left" })] });
    expect(text).toMatch(/## Figures\n\n### Times\n\nTimes over multiples\.\n\nAs left\n/);
    expect(text).not.toContain("<svg");
  });

  test("of any text is the same text again", () => {
    holds(
      fc.property(
        fc.string({ unit: "grapheme" }).filter((text) => !/[<\p{Cc}\p{Cs}]/u.test(text)),
        (text) => {
          const svg = drawing(`<text>${text}</text>`);
          expect(imageIn(html(figure(svg)))).toBe(svg);
        },
      ),
    );
  });
});

describe("refused is", () => {
  const hostile = {
    "a script": "<script>alert(1)</script>",
    "a script in capitals": "<SCRIPT>alert(1)</SCRIPT>",
    "a script in a namespace": "<svg:script>alert(1)</svg:script>",
    "an event": '<g onload="alert(1)"></g>',
    "an event in capitals": '<g OnLoad="alert(1)"></g>',
    "an event without quotes": "<g onload=alert(1)></g>",
    "an event in single quotes": "<g onload='alert(1)'></g>",
    "an event after a slash": '<g/onload="alert(1)"></g>',
    "a link": '<a href="javascript:alert(1)"><text>x</text></a>',
    "a link of old": '<g xlink:href="javascript:alert(1)"></g>',
    "another document": '<foreignObject><iframe src="x"></iframe></foreignObject>',
    "an image": '<image href="http://example.org/x.png"/>',
    "a use of something else": '<use href="http://example.org/x.svg#a"/>',
    "an animation": '<set attributeName="onload" to="alert(1)"/>',
    "a style": "<style>@import 'http://example.org/x.css'</style>",
    "a style attribute": '<g style="fill:url(http://example.org)"></g>',
    "a fill from elsewhere": '<g fill="url(http://example.org/#a)"></g>',
    "a fill from elsewhere, in disguise": '<g fill="u&#114;l(http://example.org/#a)"></g>',
    "a fill from elsewhere, escaped": '<g fill="u\\72l(http://example.org/#a)"></g>',
    "a fill from elsewhere behind one from here": '<g fill="url(#a) url(//example.org)"></g>',
    "a comment": "<!-- x -->",
    "character data": "<![CDATA[<script>alert(1)</script>]]>",
    "an entity": '<!ENTITY x SYSTEM "file:///etc/passwd">',
    "a processing instruction": '<?xml-stylesheet href="http://example.org/x.css"?>',
    "a quote left open": '<g class="a><script>alert(1)</script>',
    "a lone less-than": "<text>1 < 2</text>",
    "a foreign namespace": '<g xmlns="http://www.w3.org/1999/xhtml"></g>',
    "a control character": "<text>\u0000</text>",
    "half a character": "<text>\ud800</text>",
  };
  test.each(Object.entries(hostile))("%s", (_what, inside) => {
    expect(problemsOf(() => html(figure(drawing("<g></g>")), figure(drawing(inside))))[0]?.path).toBe("figures[1].svg");
  });

  test("any of them amid what is good", () => {
    const good = ["<g>", "</g>", "<text>a</text>", '<path d="M0,0"/>', "text"];
    holds(
      fc.property(
        fc.array(fc.constantFrom(...good)),
        fc.constantFrom(...Object.values(hostile)),
        fc.array(fc.constantFrom(...good)),
        (before, bad, after) => {
          const svg = drawing([...before, bad, ...after].join(""));
          expect(problemsOf(() => html(figure(svg)))[0]?.path).toBe("figures[0].svg");
        },
      ),
    );
  });

  test.each([
    ["an event at the root", figure(drawing("", ' onload="alert(1)"')), "figures[0].svg"],
    ["what is no SVG", figure("<p>hello</p>"), "figures[0].svg"],
    ["what begins before the drawing", figure(`<!doctype svg>${drawing("")}`), "figures[0].svg"],
    ["what goes on after it", figure(`${drawing("")}<script>alert(1)</script>`), "figures[0].svg"],
    [
      "a drawing without a description",
      figure(drawing(""), { description: undefined as never }),
      "figures[0].description",
    ],
    ["an unknown field", { ...figure(drawing("")), href: "x" } as ReportFigure, "figures[0].href"],
  ])("%s", (_what, given, path) => {
    expect(problemsOf(() => html(given))[0]?.path).toBe(path);
    expect(problemsOf(() => toMarkdown(record, { figures: [given] }))[0]?.path).toBe(path);
  });

  test("an unknown option, and a list that is none", () => {
    expect(problemsOf(() => toHtml(record, { figure: [] } as HandoverOptions))[0]?.path).toBe("figure");
    expect(problemsOf(() => toHtml(record, { figures: {} } as HandoverOptions))[0]?.path).toBe("figures");
  });
});

test("hostile titles, descriptions and captions stay text", () => {
  const nasty = `"><img src=x onerror=alert(1)></figure>`;
  const page = html(figure(drawing(""), { title: nasty, description: nasty, caption: nasty }));
  expect(page.match(/<img /g)).toHaveLength(1);
  expect(page.match(/<\/figure>/g)).toHaveLength(1);
});
