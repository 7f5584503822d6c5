/** The time law of an element on a sheet. */
import { fail } from "../../base/check.js";
import type { Collector } from "../../base/collect.js";
import { toNumber } from "../../base/exact.js";
import { readQuantity } from "../../base/quantity.js";
import type { Hertz, Seconds } from "../../base/units.js";
import { type CurveSetting, curveSide, operateTime } from "../../curve/index.js";
import type { Definition } from "../../element/index.js";
import type { SheetElement, Typed } from "./sheet.js";

interface Context {
  readonly frequency: Hertz;
  readonly attempt: Collector["attempt"];
}

/** A definite delay or an inverse curve, never both; a 50 may have neither. */
export function resolveLaw(element: SheetElement, definition: Definition, context: Context): CurveSetting {
  const { frequency, attempt } = context;
  const { curve, delay, minimumTime, addedTime } = element;
  const time = (typed: Typed, path: string) => attempt<Seconds>(path, 0, () => resolveTime(typed, path, frequency));
  const added = addedTime === undefined ? {} : { addedTime: time(addedTime, "addedTime") };
  if (curve === undefined) {
    attempt("curve", undefined, () => checkNoCurve(element));
    return { curve: { form: "definite", time: time(delay ?? 0, "delay"), side: definition.side }, ...added };
  }
  if (delay !== undefined)
    attempt("delay", undefined, () => fail("conflict", "delay", "either a delay or a curve", delay));
  const { multiplier, startRatio, ceilingMultiple } = element;
  const law: CurveSetting = {
    curve,
    ...(multiplier !== undefined && { multiplier }),
    ...(startRatio !== undefined && { startRatio }),
    ...(ceilingMultiple !== undefined && { ceilingMultiple }),
    ...(minimumTime !== undefined && { minimumTime: time(minimumTime, "minimumTime") }),
    ...added,
  };
  attempt("curve", undefined, () => {
    checkCurve(element, definition);
    operateTime(law, 1); // Its checks of the law are all that is wanted here.
  });
  return law;
}

const CURVE_FIELDS = ["multiplier", "startRatio", "ceilingMultiple", "minimumTime"] as const;

function checkNoCurve(element: SheetElement): void {
  if (element.delay === undefined && element.function !== "50")
    fail("missing", "delay", "a delay or a curve", element.delay);
  const stray = CURVE_FIELDS.find((field) => element[field] !== undefined);
  if (stray !== undefined) fail("not-applicable", stray, "nothing, since it belongs to a curve", element[stray]);
}

function checkCurve({ curve, function: name }: SheetElement, { side, practice }: Definition): void {
  if (curve === undefined) return;
  if (practice.multiples.length === 0) {
    fail("not-applicable", "curve", "a delay, since this function has a definite time", curve);
  }
  if (curveSide(curve) !== side)
    fail("conflict", "curve", `a curve of the ${side} side, as function ${name} operates`, curve);
}

/** A typed time in seconds, 0 or more. */
export function resolveTime(typed: Typed, path: string, frequency: Hertz): Seconds {
  const time = readQuantity(typed, "time", path, { frequency });
  return time.gte(0) ? toNumber(time, path) : fail("out-of-range", path, "a time of 0 s or more", typed);
}
