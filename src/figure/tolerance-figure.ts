import type { Band } from "../base/band.js";
import { fail, object, options, text } from "../base/check.js";
import { onOwnData } from "../base/own-data.js";
import type { Judged, TestRecord, Verdict } from "../record/index.js";
import { ink, plainText, single, soft } from "./look.js";
import {
  type Channels,
  checkVerdict,
  type PointVerdict,
  pointLayer,
  rectLayer,
  ruleLayer,
  textLayer,
  VERDICT_KEY,
  verdictLayers,
} from "./marks.js";
import { linearScale, positionOn } from "./scale.js";
import type { FigureRow, SingleFigure } from "./specification.js";

/** How the figure of a record is headed. */
export interface ToleranceFigureOptions {
  /** Default: the relay, and what the figure shows. */
  readonly title?: string;
}

/**
 * Every check of a record on one axis: the share of its tolerance that the error of the decisive reading uses, below nominal on the
 * left, with the limits at −1 and 1, and the expanded uncertainty as a bar.
 *
 * A reading far beyond its limit stands at the edge of the panel with its share in figures, and so does an operation that
 * was wanted and never came. A check without a number says why: never operated, stayed quiet, not taken, impossible. Where there is no limit on the side of the error, the reading
 * stands at 0 and says so.
 *
 * @returns A Vega-Lite specification with one row for each check and stage, in the order of the record.
 * @throws A {@link InputError} for what is no record.
 * Accuracy: the share is `used` of the grade, with the sign of the error.
 * @source design of this library
 *
 * @example
 * import { toleranceFigure } from "tripwright/figure";
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * const figure = toleranceFigure(judge(sheet, plan(sheet), [{ check: "50P/time", stage: "as-found", repeat: 1, value: 0.145 }]));
 * figure.layer.find(({ name }) => name === "readings outside")?.data.values; // → [{ check: "50P/time", share: 1.125 }]
 */
export const toleranceFigure = (record: TestRecord, given: ToleranceFigureOptions = {}): SingleFigure =>
  onOwnData("record", "a record, as `judge` makes it", () => figureOf(record, given));

function figureOf(record: TestRecord, given: ToleranceFigureOptions): SingleFigure {
  object(record, "record", "a record");
  if (!Array.isArray(record.verdicts) || record.verdicts.length === 0)
    fail(
      record.verdicts === undefined ? "missing" : "wrong-type",
      "verdicts",
      "a list of one verdict or more",
      record.verdicts,
    );
  const { title = `${record.sheet.relay}: how much of each tolerance is used` } = options(given, ["title"]);
  text(title, "title", "a title");
  const lines = record.verdicts.map(lineOf);
  const described = lines.map(({ name, remark }) => `${name}: ${remark}.`).join(" ");
  return single({ title, subtitle: [keyOf(lines)], description: `${title}. ${described}` }, panelOf(lines));
}

/** What the marks mean. */
const keyOf = (lines: readonly Line[]): string =>
  [
    VERDICT_KEY,
    "bar: expanded uncertainty",
    ...(lines.some(({ isNever }) => isNever) ? ["▶ at the edge: never operated"] : []),
    ...(lines.some(({ share = 0 }) => Math.abs(share) > EDGE) ? ["◀ ▶ beyond the edge"] : []),
  ].join(" · ");

/** One check at one stage. */
interface Line {
  readonly name: string;
  /** Without a number there is no place for a mark. */
  readonly share?: number;
  /** From where to where the expanded uncertainty reaches. */
  readonly reach?: readonly [number, number];
  /** It should have operated, and never did. */
  readonly isNever?: boolean;
  readonly verdict: PointVerdict | undefined;
  readonly remark: string;
}

function lineOf(verdict: Verdict): Line {
  const name = verdict.stage === "as-found" ? verdict.check : `${verdict.check}, as left`;
  if (verdict.status !== "graded") {
    const remark = verdict.status === "impossible" ? "impossible" : "not taken";
    return { name, verdict: undefined, remark };
  }
  const judged = verdict.readings[verdict.decisive] as Judged;
  const grade = checkVerdict(verdict.grade.verdict, "verdicts.grade.verdict") as PointVerdict;
  return { name, verdict: grade, ...measured(judged, grade) };
}

function measured(
  { reading, band, grade, uncertainty }: Judged,
  verdict: PointVerdict,
): Omit<Line, "name" | "verdict"> {
  if (band === undefined || grade.error === undefined || typeof reading.value !== "number") {
    if (reading.value !== "never") return { remark: `operated, should have stayed quiet, ${verdict}` };
    return band === undefined
      ? { remark: `stayed quiet, ${verdict}` }
      : { isNever: true, remark: `never operated, ${verdict}` };
  }
  const expanded = uncertainty === undefined ? undefined : uncertainty.standard * uncertainty.coverageFactor;
  const reach =
    expanded === undefined
      ? {}
      : { reach: [-expanded, expanded].map((by) => shareOf(grade.error + by, band)) as [number, number] };
  if (grade.used === undefined && grade.error !== 0)
    return { share: 0, ...reach, remark: `no limit on this side, ${verdict}` };
  const share = (grade.used ?? 0) * (grade.error < 0 ? -1 : 1) + 0;
  return { share, ...reach, remark: `${percent(share)} of the tolerance, ${verdict}` };
}

/** Which share of the tolerance on its side an error uses; none where there is no limit. */
function shareOf(error: number, { nominal, low, high }: Band): number {
  const limit = error < 0 ? low : high;
  const room = limit === undefined ? 0 : Math.abs(limit - nominal);
  return room === 0 ? 0 : error / room;
}

/** With as many digits as it takes to say on which side of the limit it lies. */
function percent(share: number): string {
  const exact = 100 * share;
  // What rounding left of a reading that is nominal.
  if (Math.abs(exact) < 0.005) return "0 %";
  const side = Math.sign(Math.abs(share) - 1);
  let digits = 3;
  while (digits < 15 && Math.sign(Math.abs(Number(exact.toPrecision(digits))) - 100) !== side) digits++;
  return `${share > 0 ? "+" : ""}${Number(exact.toPrecision(digits))} %`;
}

/** Beyond this a reading stands at the edge. */
const EDGE = 3;
const WIDTH = 460;
const ROW = 19;

const held = (share: number): number => Math.min(EDGE, Math.max(-EDGE, share));

function panelOf(lines: readonly Line[]) {
  const farthest = lines.reduce(
    (far, { share = 0, reach = [0, 0] }) => Math.max(far, ...[share, ...reach].map((x) => Math.abs(held(x)))),
    1.4,
  );
  const scale = linearScale([-farthest - 0.1, farthest + 0.1], { exact: true, count: 8 });
  const names = lines.map(({ name }) => plainText(name));
  const x = positionOn(scale, {
    title: "Error as a share of the tolerance (1 = on the limit)",
    across: WIDTH,
    more: { grid: true },
  });
  const y = {
    field: "check",
    type: "nominal",
    scale: { domain: names },
    sort: null,
    axis: { title: "", domain: false, ticks: false, labelLimit: 0, labelPadding: 8 },
  };
  const on = { x: x("share"), y };
  const rows = lines.map((line, i) => ({ ...line, check: names[i] as string }));
  const points = rows.flatMap(({ check, share, verdict }) =>
    share === undefined ? [] : [{ row: { check, share: held(share) }, verdict, isOff: Math.abs(share) > EDGE }],
  );
  const bars = rows.flatMap(({ check, reach }) =>
    reach === undefined ? [] : [{ check, share: held(reach[0]), to: held(reach[1]) }],
  );
  const never = rows.flatMap(({ check, isNever }) => (isNever ? [{ check, share: farthest }] : []));
  const off = points.filter(({ isOff }) => isOff).map(({ row }) => row);
  const remarks = rows.map(({ check, remark, verdict }) => ({
    check,
    label: plainText(
      verdict === "within" ? remark.replace(/, within$/, "") : remark.replace(LOUD, (word) => word.toUpperCase()),
    ),
    loud: verdict !== "within",
  }));
  const limits = [-1, 1].map((share) => ({ share }));
  const aside = { x: { value: WIDTH + 14 }, y };
  return {
    name: "shares",
    width: WIDTH,
    height: ROW * lines.length,
    layer: [
      rectLayer(
        "accepted",
        [{ share: -1, to: 1 }],
        { x: on.x, x2: { field: "to" } },
        { color: "#0072B2", opacity: 0.09 },
      ),
      ruleLayer("limits", limits, { x: on.x }, { color: ink, strokeWidth: 1.5, strokeDash: [6, 3] }),
      ruleLayer("nominal", [{ share: 0 }], { x: on.x }, { color: soft }),
      ruleLayer("uncertainties", bars, { ...on, x2: { field: "to" } }, { strokeWidth: 2, color: soft }),
      ...verdictLayers(
        "readings",
        points.filter(({ isOff }) => !isOff),
        on,
      ),
      ...offLayers(off, on),
      pointLayer("never operated", never, on, { shape: "triangle-right", size: 110 }),
      textLayer("remarks", remarks.filter(({ loud }) => !loud).map(plain), aside),
      textLayer("loud remarks", remarks.filter(({ loud }) => loud).map(plain), aside, { fontWeight: "bold" }),
    ],
  };
}

const LOUD = /(outside|undecided|not taken|impossible)$/;

const plain = ({ check, label }: FigureRow): FigureRow => ({ check: check as string, label: label as string });

/** Triangles that point to where the readings are. */
const offLayers = (rows: readonly FigureRow[], on: Channels) =>
  (["left", "right"] as const).map((side) => {
    const own = rows.filter(({ share }) => (side === "left" ? (share as number) < 0 : (share as number) > 0));
    return pointLayer(`readings beyond ${side}`, own, on, { shape: `triangle-${side}`, size: 110 });
  });
