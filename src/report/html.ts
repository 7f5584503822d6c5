/** A document as one HTML file that stands alone: no script, nothing loaded, readable without colour and on paper. */
import { oneLine } from "./account.js";
import type { Block, CellText, Handover, Section } from "./document.js";
import { STYLE } from "./style.js";
import { unbroken, WITH_HYPHENS } from "./unbroken.js";

export function asHtml({ title, opening, sections }: Handover): string {
  const chapters = sections.filter(({ depth }) => depth === 2);
  const hasFigures = sections.some(({ blocks }) => blocks.some((each) => each.block === "figure"));
  return [
    "<!doctype html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    // Nothing in a record can load or run anything, whatever a name or a note contains.
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'${hasFigures ? "; img-src data:" : ""}">`,
    `<title>${text(title)}</title>`,
    `<style>${STYLE}</style>`,
    "</head>",
    "<body>",
    "<header>",
    `<h1>${content(title)}</h1>`,
    ...opening.map(block),
    "</header>",
    '<nav aria-label="Contents"><ul>',
    ...chapters.map((section) => `<li><a href="#${anchor(section, sections)}">${content(section.title)}</a></li>`),
    "</ul></nav>",
    "<main>",
    ...sections.map(
      (section) =>
        `<section><h${section.depth} id="${anchor(section, sections)}">${content(section.title)}</h${section.depth}>\n${section.blocks.map(block).join("\n")}\n</section>`,
    ),
    "</main>",
    "</body>",
    "</html>",
    "",
  ].join("\n");
}

const anchor = (section: Section, sections: readonly Section[]): string => `part-${sections.indexOf(section) + 1}`;

function block(given: Block): string {
  switch (given.block) {
    case "text":
      return given.loud ? `<p class="loud">${content(given.text)}</p>` : `<p>${content(given.text)}</p>`;
    case "list":
      return `<ul>\n${given.items.map((item) => `<li>${content(item)}</li>`).join("\n")}\n</ul>`;
    case "facts":
      return `<dl>\n${given.facts.map(([name, value]) => `<div><dt>${content(name)}</dt><dd>${content(value)}</dd></div>`).join("\n")}\n</dl>`;
    case "table":
      return table(given);
    case "figure":
      return figure(given);
  }
}

/** An image, in which browsers neither run nor load anything. */
function figure({ svg, description, caption }: Extract<Block, { block: "figure" }>): string {
  const below = caption === undefined ? "" : `\n<figcaption>${content(caption)}</figcaption>`;
  return `<figure><img alt="${text(description)}" src="data:image/svg+xml;charset=utf-8,${inUrl(svg)}">${below}</figure>`;
}

/** What an attribute and an address leave alone stays as it is, so that the page does not grow to twice its size. */
const inUrl = (svg: string): string => svg.replace(/[^ '()*+,\-./0-9;=?@A-Z_a-z]/gu, encodeURIComponent);

/** The first cell of a row names it. A table that is wider than the window can be scrolled, by keyboard too. */
function table({ caption, header, rows, blank, prose = [] }: Extract<Block, { block: "table" }>): string {
  const body = rows.map(
    ([first = "", ...rest]) => `<tr><th scope="row">${rowName(first)}</th>${rest.map(dataCell).join("")}</tr>`,
  );
  return [
    `<div class="wide" tabindex="0" role="region" aria-label="${text(caption)}">`,
    `<table${blank ? ' class="blank"' : ""}>`,
    `<caption>${content(caption)}</caption>`,
    `<thead><tr>${header.map((name) => `<th${prose.includes(name) ? ' class="prose"' : ""} scope="col">${content(name)}</th>`).join("")}</tr></thead>`,
    `<tbody>\n${body.join("\n")}\n</tbody>`,
    "</table></div>",
  ].join("\n");
}

/** The id of a check is one word; where it is long, `87T/quiet@zero-sequence-2`, a line may end behind its `/` and `@` alone. */
const rowName = (given: CellText): string =>
  typeof given === "string" && /^\S{15,}$/u.test(given)
    ? given
        .split(/(?<=[/@])(?=.)/u)
        .map(text)
        .join("<wbr>")
    : cell(given);

const dataCell = (given: CellText): string => `<td>${cell(given)}</td>`;
const cell = (given: CellText): string =>
  typeof given === "string" ? content(given) : `<strong>${content(given.loud)}</strong>`;

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Text stays text, in content and in attributes. */
const text = (raw: string): string =>
  unbroken(oneLine(raw)).replace(/[&<>"']/g, (character) => ENTITIES[character] as string);

/**
 * Text between tags, where what has hyphens can be kept on one line without a change to its letters, and a line may end within
 * what is longer than any word: it would make a table wider than the paper.
 */
const content = (raw: string): string =>
  text(raw).replace(LONG, "$&<wbr>").replace(WITH_HYPHENS, '<span class="whole">$&</span>');

/** So many letters in a row, none of them a part of an entity. */
const LONG = /[^\s&;]{60}(?=\S)/gu;
