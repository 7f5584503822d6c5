import { nameIn, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { onOwnData } from "../base/own-data.js";
import { type ElementSetting, lawOf } from "../element/index.js";
import { type Check, settingsOf } from "../plan/index.js";
import type { GradedVerdict, Judged, TestRecord, Verdict } from "../record/index.js";
import { curveFigure, type TimedPoint } from "./curve-figure.js";
import { untitled } from "./look.js";
import { planeOf } from "./record-planes.js";
import type { SingleFigure } from "./specification.js";
import { toleranceFigure } from "./tolerance-figure.js";

/** A figure of a record. */
export interface RecordFigure {
  readonly title: string;
  /** The element that it is about; absent for the record as a whole. */
  readonly element?: string;
  readonly spec: SingleFigure;
}

/** How the figures of a record are made. */
export interface RecordFiguresOptions {
  /** `beside`: the drawings go without, for a page that puts each `title` above its drawing as `toHtml` does. Default `inside`. */
  readonly titles?: "inside" | "beside";
}

/**
 * The figures that belong into a record: the share of the tolerance that every check uses, and for each element whose time depends
 * on its quantity the curve with what was accepted and what was measured, as found and as left, at what was really injected.
 *
 * For each element that sets two quantities against each other (a zone, a restraint) its boundary, and the points at which it was
 * measured, each at the level of the sweep that is nearest to the reading.
 *
 * Of several repeats all times are drawn, and the one that makes the verdict has its time beside it; of a boundary that one alone.
 *
 * @returns One figure, or several of about 40 rows where there are more checks; and one more for each such element with readings of
 * its time, or of its boundary.
 * @throws A {@link InputError} for what is no record, and for a sheet that is not good.
 * @source design of this library
 *
 * @example
 * import { recordFigures } from "tripwright/figure";
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "51P", function: "51", pickup: "4 A", curve: "iec-very-inverse", multiplier: 0.2, accuracy }],
 * });
 * const record = judge(sheet, plan(sheet), [{ check: "51P/time@3", stage: "as-found", repeat: 1, value: 1.36 }]);
 * recordFigures(record).map(({ title }) => title); // → ["F12: how much of each tolerance is used", "F12: operate times of 51P"]
 */
export function recordFigures(record: TestRecord, given: RecordFiguresOptions = {}): RecordFigure[] {
  const { titles = "inside" } = options(given, ["titles"]);
  nameIn(titles, { inside: true, beside: true }, "titles");
  toleranceFigure(record);
  const { elements } = within("sheet", () => settingsOf(record.sheet));
  const figures = onOwnData("record", "a record, as `judge` makes it", () => [
    ...sharesOf(record),
    ...elements.flatMap((setting) => [...curveOf(setting, record), ...planeOf(setting, record)]),
  ]);
  return titles === "inside" ? figures : figures.map(({ spec, ...figure }) => ({ ...figure, spec: untitled(spec) }));
}

/** As many rows as can be read on a printed page. */
const MOST_ROWS = 40;

function sharesOf(record: TestRecord): RecordFigure[] {
  const parts = partsOf(record.verdicts);
  return parts.map((verdicts, i) => {
    const part = parts.length === 1 ? "" : `, ${i + 1} of ${parts.length}`;
    const title = `${record.sheet.relay}: how much of each tolerance is used${part}`;
    return { title, spec: toleranceFigure({ ...record, verdicts }, { title }) };
  });
}

/** About as many in each; what was found and what was left of one check stay together. */
function partsOf(verdicts: readonly Verdict[]): Verdict[][] {
  const size = Math.ceil(verdicts.length / Math.ceil(verdicts.length / MOST_ROWS));
  const parts: Verdict[][] = [];
  for (const verdict of verdicts) {
    const last = parts.at(-1);
    if (last !== undefined && (last.length < size || last.at(-1)?.check === verdict.check)) last.push(verdict);
    else parts.push([verdict]);
  }
  return parts;
}

function curveOf(setting: ElementSetting, record: TestRecord): RecordFigure[] {
  const { id, law, accuracy } = setting;
  if (typeof law.curve === "object" && law.curve.form === "definite") return [];
  const points = record.verdicts.flatMap((verdict) => {
    const check = record.plan.checks.find((candidate) => candidate.id === verdict.check);
    const isTime = check?.element === id && check.proves === "operate-time" && verdict.status === "graded";
    return isTime ? pointsOf(verdict, check, setting) : [];
  });
  if (points.length === 0) return [];
  const title = `${record.sheet.relay}: operate times of ${id}`;
  const spec = curveFigure({ title, curves: [{ name: id, setting: lawOf(setting), accepted: accuracy.time, points }] });
  return [{ title, element: id, spec }];
}

const pointsOf = (
  { readings, stage, decisive }: GradedVerdict,
  { level = 0 }: Check,
  { pickup }: ElementSetting,
): TimedPoint[] =>
  readings.map(({ reading, grade }: Judged, i) => {
    const { value, injected = level } = reading;
    const measured = typeof value === "number" ? { time: value } : {};
    const said = typeof value === "number" ? `${Number(value.toPrecision(4))} s` : "never";
    const worst = readings.length === 1 ? said : `worst of ${readings.length}: ${said}`;
    const label = stage === "as-left" ? `${worst} as left` : worst;
    return { multiple: injected / pickup, ...measured, verdict: grade.verdict, label: i === decisive ? label : "" };
  });
