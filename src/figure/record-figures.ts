import { within } from "../base/input-error.js";
import { onOwnData } from "../base/own-data.js";
import { type ElementSetting, lawOf } from "../element/index.js";
import { type Check, settingsOf } from "../plan/index.js";
import type { GradedVerdict, Judged, TestRecord } from "../record/index.js";
import { curveFigure, type TimedPoint } from "./curve-figure.js";
import type { SingleFigure } from "./specification.js";
import { toleranceFigure } from "./tolerance-figure.js";

/** A figure of a record. */
export interface RecordFigure {
  readonly title: string;
  /** The element that it is about; absent for the record as a whole. */
  readonly element?: string;
  readonly spec: SingleFigure;
}

/**
 * The figures that belong into a record: the share of the tolerance that every check uses, and for each element whose time depends
 * on its quantity the curve with what was accepted and what was measured, as found and as left, at what was really injected.
 *
 * @returns One figure, and one more for each such element with readings of its time.
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
export function recordFigures(record: TestRecord): RecordFigure[] {
  const whole = toleranceFigure(record);
  const { elements } = within("record.sheet", () => settingsOf(record.sheet));
  const curves = onOwnData("record", "a record, as `judge` makes it", () =>
    elements.flatMap((setting) => curveOf(setting, record)),
  );
  return [{ title: whole.title.text, spec: whole }, ...curves];
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

const pointsOf = ({ readings, stage }: GradedVerdict, { level = 0 }: Check, { pickup }: ElementSetting): TimedPoint[] =>
  readings.map(({ reading, grade }: Judged) => {
    const { value, injected = level } = reading;
    const measured = typeof value === "number" ? { time: value } : {};
    const said = typeof value === "number" ? `${Number(value.toPrecision(4))} s` : "never";
    return {
      multiple: injected / pickup,
      ...measured,
      verdict: grade.verdict,
      label: stage === "as-left" ? `${said} as left` : said,
    };
  });
