/**
 * The figures of a record as SVG, drawn by the packages vega and vega-lite where they are installed. The library itself
 * needs neither: a figure is a Vega-Lite specification, for any renderer. No program: record.js takes its drawings from here.
 */
import { recordFigures } from "tripwright";

/**
 * Drawings for `toHtml`; none where the renderer is not installed. With `{ titles: "beside" }` they go without their titles,
 * which a record puts above them.
 * @param {import("tripwright").TestRecord} record
 * @param {import("tripwright").RecordFiguresOptions} [how]
 * @returns {Promise<import("tripwright").ReportFigure[]>}
 */
export async function drawingsOf(record, how = {}) {
  const renderer = await loadRenderer();
  if (renderer === undefined) return [];
  const figures = recordFigures(record, how);
  return Promise.all(
    figures.map(async ({ title, spec }) => ({ title, svg: await renderer(spec), description: spec.description })),
  );
}

/**
 * From a specification to SVG, where both packages are there; says so where they are not.
 * @returns {Promise<((spec: import("tripwright").FigureSpec) => Promise<string>) | undefined>}
 */
async function loadRenderer() {
  try {
    const [vega, { compile }] = await Promise.all([import("vega"), import("vega-lite")]);
    return (spec) => {
      const { spec: compiled } = compile(
        /** @type {import("vega-lite").TopLevelSpec} */ (/** @type {unknown} */ (spec)),
      );
      return new vega.View(vega.parse(compiled), { renderer: "none" }).toSVG();
    };
  } catch (error) {
    // Whatever keeps the renderer away must not keep the record from being made.
    console.error(`Without figures: ${error instanceof Error ? error.message : error}`);
    return undefined;
  }
}
