/** The figures of a record for functions of two quantities: the boundary, and where each reading was taken. */
import { outlineOf } from "../characteristic/index.js";
import { definitionOf, type ElementSetting, inputsOf, type Plane } from "../element/index.js";
import type { Check } from "../plan/index.js";
import type { GradedVerdict, TestRecord } from "../record/index.js";
import { type NamedPoint, planeFigure } from "./plane-figure.js";
import type { SingleFigure } from "./specification.js";

interface PlaneOfElement {
  readonly title: string;
  readonly element: string;
  readonly spec: SingleFigure;
}

/** The plane of an element with what was measured of its boundary; nothing where it has none, or nothing was. */
export function planeOf(setting: ElementSetting, record: TestRecord): PlaneOfElement[] {
  const { plane } = definitionOf(setting.function);
  if (plane === undefined) return [];
  const points = record.verdicts.flatMap((verdict) => {
    const check = record.plan.checks.find(({ id }) => id === verdict.check);
    return check?.element === setting.id && verdict.status === "graded"
      ? pointOf(verdict, check, { setting, plane })
      : [];
  });
  if (points.length === 0) return [];
  const title = `${record.sheet.relay}: boundary of ${setting.id}`;
  const region = plane.region(setting);
  const extent = 1.1 * Math.max(...points.map(({ x }) => Math.abs(x)));
  // What is closed comes back to its first point, as the figure does by itself.
  const outline =
    region.form === "above"
      ? { name: setting.id, open: true as const, points: outlineOf(region, { extent }) }
      : { name: setting.id, points: outlineOf(region).slice(1) };
  const spec = planeFigure({ title, axes: plane.axes, equal: plane.equal, outlines: [outline], points });
  return [{ title, element: setting.id, spec }];
}

interface Drawn {
  readonly setting: ElementSetting;
  readonly plane: Plane;
}

/** Where a level was read at which the function starts; what it lets go at lies on another boundary. */
function pointOf({ readings, decisive, stage }: GradedVerdict, check: Check, { setting, plane }: Drawn): NamedPoint[] {
  const { reading, grade } = readings[decisive] ?? {};
  if (reading === undefined || grade === undefined || typeof reading.value !== "number") return [];
  if (check.proves !== "pickup" && check.proves !== "edge") return [];
  const channels = channelsNear(reading.value, check);
  const place = channels && plane.place(inputsOf(channels, check.timeline.wiring), setting);
  if (place === undefined) return [];
  const what = check.edge ?? "pickup";
  return [{ name: stage === "as-left" ? `${what} as left` : what, verdict: grade.verdict, ...place }];
}

/** The state of the sweep whose level is nearest to what was read; nothing where that lies outside the sweep. */
function channelsNear(value: number, { sweep, timeline: { segments } }: Check) {
  if (sweep === undefined || sweep.rest !== undefined) return undefined;
  const { from, to, step } = sweep;
  // The last state stands at `to`, and each one before it a step nearer to `from`.
  const back = Math.round(Math.abs(to - value) / step);
  const isInside = value >= Math.min(from, to) - step && value <= Math.max(from, to) + step;
  return isInside ? segments.at(-1 - Math.min(back, Math.round(Math.abs(to - from) / step)))?.channels : undefined;
}
