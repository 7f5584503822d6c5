/** The time law of an element on a sheet. */
import { fail } from "../base/check.js";
import { toNumber } from "../base/exact.js";
import { readQuantity } from "../base/quantity.js";
import type { Hertz, Seconds } from "../base/units.js";
import { type CurveSetting, curveSide, operateTime } from "../curve/index.js";
import type { Definition } from "../element/index.js";
import type { SheetElement, Typed } from "./sheet.js";

/** A definite delay or an inverse curve, never both; a 50 may have neither. */
export function resolveLaw(element: SheetElement, definition: Definition, frequency: Hertz): CurveSetting {
  const { curve, delay, addedTime } = element;
  const added = addedTime === undefined ? {} : { addedTime: resolveTime(addedTime, "addedTime", frequency) };
  if (curve !== undefined && delay !== undefined) fail("conflict", "delay", "either a delay or a curve", delay);
  const law =
    curve === undefined ? definiteLaw(element, definition, frequency) : inverseLaw(element, definition, frequency);
  return { ...law, ...added };
}

const CURVE_FIELDS = ["multiplier", "startRatio", "ceilingMultiple", "minimumTime"] as const;

function definiteLaw(element: SheetElement, { side }: Definition, frequency: Hertz): CurveSetting {
  const { delay } = element;
  if (delay === undefined && element.function !== "50") fail("missing", "delay", "a delay or a curve", delay);
  const stray = CURVE_FIELDS.find((field) => element[field] !== undefined);
  if (stray !== undefined) fail("not-applicable", stray, "nothing, since it belongs to a curve", element[stray]);
  return { curve: { form: "definite", time: resolveTime(delay ?? 0, "delay", frequency), side } };
}

function inverseLaw(element: SheetElement, { side, practice }: Definition, frequency: Hertz): CurveSetting {
  const { curve, multiplier, startRatio, ceilingMultiple, minimumTime } = element;
  if (curve === undefined) return fail("missing", "curve", "a curve", curve);
  if (practice.multiples.length === 0)
    fail("not-applicable", "curve", "a delay, since this function has a definite time", curve);
  if (curveSide(curve) !== side) {
    fail("conflict", "curve", `a curve of the ${side} side, as function ${element.function} operates`, curve);
  }
  const law: CurveSetting = {
    curve,
    ...(multiplier !== undefined && { multiplier }),
    ...(startRatio !== undefined && { startRatio }),
    ...(ceilingMultiple !== undefined && { ceilingMultiple }),
    ...(minimumTime !== undefined && { minimumTime: resolveTime(minimumTime, "minimumTime", frequency) }),
  };
  operateTime(law, 1); // Its checks of the law are all that is wanted here.
  return law;
}

/** A typed time in seconds, 0 or more. */
export function resolveTime(typed: Typed, path: string, frequency: Hertz): Seconds {
  const time = readQuantity(typed, "time", path, { frequency });
  return time.gte(0) ? toNumber(time, path) : fail("out-of-range", path, "a time of 0 s or more", typed);
}
