/** Drawings that somebody else made, and what of them is let into a record. */
import { fail, list, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Section } from "./document.js";

/** A drawing for a record. */
export interface ReportFigure {
  readonly title: string;
  /**
   * A drawing as SVG: shapes and text alone. Anything that could run, load or restyle is refused, whoever made it; in the
   * record it is an image besides, in which browsers run nothing.
   */
  readonly svg: string;
  /** The same in words, for those who cannot see it. */
  readonly description: string;
  /** Stands below the drawing. */
  readonly caption?: string;
}

/** What a record is handed over with. */
export interface HandoverOptions {
  /** Drawings in the order in which they stand in the record. Markdown holds their descriptions. */
  readonly figures?: readonly ReportFigure[];
}

/** Checks what was handed in. */
export function checkFigures(given: HandoverOptions): readonly ReportFigure[] {
  const { figures = [] } = options(given, ["figures"]);
  list(figures, "figures", "a list of { title, svg, description }");
  [...figures].forEach((figure: ReportFigure, i) => {
    within(`figures[${i}]`, () => {
      const { title, svg, description, caption } = options(figure, ["title", "svg", "description", "caption"]);
      text(title, "title", "a title");
      text(description, "description", "what the drawing shows, in words");
      if (caption !== undefined) text(caption, "caption", "a caption");
      checkDrawing(text(svg, "svg", WANTED));
    });
  });
  return figures;
}

/** A chapter with a part for each, or none. */
export const figureSections = (figures: readonly ReportFigure[]): Section[] =>
  figures.length === 0
    ? []
    : [
        { title: "Figures", depth: 2, blocks: [] },
        ...figures.map(
          ({ title, ...drawing }): Section => ({ title, depth: 3, blocks: [{ block: "figure", ...drawing }] }),
        ),
      ];

const WANTED = "an SVG drawing of shapes and text, without scripts, styles, links, images or anything that is loaded";

const ELEMENTS = new Set(
  "svg g path line rect circle ellipse polyline polygon text tspan title desc defs clipPath linearGradient radialGradient stop".split(
    " ",
  ),
);
const ATTRIBUTES = new Set(
  (
    "id class role version width height viewBox x y x1 y1 x2 y2 dx dy cx cy r rx ry fx fy d points transform offset opacity display " +
    "pointer-events visibility fill fill-opacity fill-rule stroke stroke-width stroke-opacity stroke-dasharray stroke-dashoffset " +
    "stroke-linecap stroke-linejoin stroke-miterlimit clip-path clip-rule font-family font-size font-style font-weight " +
    "text-anchor dominant-baseline letter-spacing gradientUnits gradientTransform clipPathUnits stop-color stop-opacity " +
    "preserveAspectRatio xml:space"
  ).split(" "),
);
const NAMESPACES: Readonly<Record<string, string>> = {
  xmlns: "http://www.w3.org/2000/svg",
  "xmlns:xlink": "http://www.w3.org/1999/xlink",
};

/** Every `<` must begin one of the known elements with known attributes: comments, entities, processing are none. */
function checkDrawing(svg: string): void {
  if (!/^<svg\s/.test(svg) || !svg.trimEnd().endsWith("</svg>")) fail("unreadable", "svg", WANTED, svg);
  if (/\p{Cs}|(?![\t\n\r])\p{Cc}/u.test(svg))
    fail("unreadable", "svg", `${WANTED}, in characters that XML allows`, svg);
  const tag = /<\/?([A-Za-z]+)((?:\s+[A-Za-z][\w:-]*="[^"<]*")*)\s*\/?>/y;
  for (let at = svg.indexOf("<"); at >= 0; at = svg.indexOf("<", at + 1)) {
    tag.lastIndex = at;
    const [whole, element = "", attributes = ""] = tag.exec(svg) ?? [];
    const isKnown = whole !== undefined && ELEMENTS.has(element) && attributesOf(attributes).every(isHarmless);
    if (!isKnown) fail("not-applicable", "svg", WANTED, whole ?? svg.slice(at, at + 60));
  }
}

const attributesOf = (text: string): [name: string, value: string][] =>
  [...text.matchAll(/([A-Za-z][\w:-]*)="([^"]*)"/g)].map(([, name = "", value = ""]) => [name, value]);

/** Known, and pointing nowhere but into the drawing itself. */
function isHarmless([name, value]: readonly [string, string]): boolean {
  if (Object.hasOwn(NAMESPACES, name)) return value === NAMESPACES[name];
  if (!ATTRIBUTES.has(name) && !/^aria-[a-z]+$/.test(name)) return false;
  return (
    name.startsWith("aria-") || !/url\s*\(|[\\&]/i.test(value.replace(/url\(#[\w-]+\)/g, "")) || name === "font-family"
  );
}
