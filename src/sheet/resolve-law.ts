/** The time law of an element on a sheet. */
import { fail } from "../base/check.js";
import { type Collector, collector } from "../base/collect.js";
import { toNumber } from "../base/exact.js";
import { InputError } from "../base/input-error.js";
import { readQuantity } from "../base/quantity.js";
import type { Hertz, Seconds } from "../base/units.js";
import {
  advance,
  type Curve,
  type CurveName,
  type CurveSetting,
  curveSide,
  operateTime,
  type Reset,
  standardCurve,
} from "../curve/index.js";
import type { Definition } from "../element/index.js";
import type { SheetElement, TypedConstants, TypedCurve, TypedReset } from "./sheet.js";
import type { Typed } from "./typed.js";

interface Context {
  readonly frequency: Hertz;
  readonly attempt: Collector["attempt"];
}

/** A definite delay or an inverse curve, never both; a function that may be instantaneous may have neither. */
export function resolveLaw(element: SheetElement, definition: Definition, context: Context): CurveSetting {
  const { frequency, attempt } = context;
  const { curve, delay, minimumTime, addedTime } = element;
  const timeOr = (standIn: Seconds) => (typed: Typed, path: string) =>
    attempt(path, standIn, () => resolveTime(typed, path, frequency));
  const time = timeOr(0);
  const common = {
    ...(addedTime !== undefined && { addedTime: time(addedTime, "addedTime") }),
    // A disk that returns in no time is a problem of its own, so that 0 s cannot stand in.
    ...(element.reset !== undefined && { reset: resetOf(element.reset, timeOr(1)) }),
  };
  if (curve === undefined) {
    attempt("curve", undefined, () => checkNoCurve(element, definition));
    const law: CurveSetting = {
      curve: { form: "definite", time: time(delay ?? 0, "delay"), side: definition.side },
      ...common,
    };
    attempt("reset", undefined, () => checkReset(law));
    return law;
  }
  if (delay !== undefined)
    attempt("delay", undefined, () => fail("conflict", "delay", "either a delay or a curve", delay));
  const { multiplier, startRatio = 1, ceilingMultiple } = element;
  const named = attempt("curve", undefined, () => curveOf(curve, frequency));
  const law: CurveSetting = {
    curve: named ?? "iec-inverse",
    ...(multiplier !== undefined && { multiplier }),
    ...(element.startRatio !== undefined && { startRatio }),
    ...(ceilingMultiple !== undefined && { ceilingMultiple }),
    ...(minimumTime !== undefined && { minimumTime: time(minimumTime, "minimumTime") }),
    ...common,
  };
  // Held against the function only where its own times are good.
  const isGood = attempt("curve", false, () => {
    if (named === undefined) return false;
    checkCurve(law, element, definition);
    // Its checks of the law are all that is wanted here; where it starts it has no time, and a drawn curve need have none.
    operateTime({ ...law, startRatio }, startRatio);
    return true;
  });
  if (isGood) attempt("reset", undefined, () => checkReset({ ...law, startRatio }));
  return law;
}

/** Whether a law can return as it says: a disk needs its constant, and no under function has one. */
function checkReset(law: CurveSetting): void {
  advance(law, { elapsed: 0, travel: 0 }, { multiple: curveSide(law.curve) === "over" ? 0 : 10, dt: 1 });
}

type ReadTime = (typed: Typed, path: string) => Seconds;

/** Times may be typed with a unit; absent ones stay absent. Every slip in them is told. */
function curveOf(curve: TypedCurve, frequency: Hertz): Curve | CurveName {
  if (typeof curve === "string") return curve;
  const { attempt, problems } = collector([]);
  const resolved = constantsOf(curve, (typed, field) => {
    const path = `curve.${field}`;
    return attempt<Seconds>(path, 0, () => resolveTime(typed, path, frequency));
  });
  if (problems.length > 0) throw new InputError(problems);
  return resolved;
}

function constantsOf(curve: TypedConstants, time: ReadTime): Curve {
  switch (curve.form) {
    case "inverse": {
      const { form, k, alpha, c, reset } = curve;
      const constants = { form, k: time(k, "k"), alpha, c: time(c, "c") };
      return reset === undefined ? constants : { ...constants, reset: time(reset, "reset") };
    }
    case "under":
      return { form: curve.form, k: time(curve.k, "k"), alpha: curve.alpha, c: time(curve.c, "c") };
    case "excess":
      return { form: curve.form, k: time(curve.k, "k"), power: curve.power };
    case "energy": {
      const { form, k, maximumTime } = curve;
      const constants = { form, k: time(k, "k") };
      return maximumTime === undefined ? constants : { ...constants, maximumTime: time(maximumTime, "maximumTime") };
    }
    case "thermal": {
      const { form, tau, coolingTau } = curve;
      const constants = { form, tau: time(tau, "tau") };
      return coolingTau === undefined ? constants : { ...constants, coolingTau: time(coolingTau, "coolingTau") };
    }
    case "table":
      return {
        form: curve.form,
        points: curve.points.map((point, i) => ({
          multiple: point.multiple,
          time: time(point.time, `points[${i}].time`),
        })),
      };
  }
}

function resetOf(reset: TypedReset, time: ReadTime): Reset {
  if (reset.form === "definite") return { form: "definite", time: time(reset.time, "reset.time") };
  if (reset.form === "disk" && reset.time !== undefined) return { form: "disk", time: time(reset.time, "reset.time") };
  return reset as Reset;
}

const CURVE_FIELDS = ["multiplier", "startRatio", "ceilingMultiple", "minimumTime"] as const;

function checkNoCurve(element: SheetElement, { instantaneous, laws }: Definition): void {
  if (!laws.includes("definite")) fail("missing", "curve", `a curve of the form ${laws.join(" or ")}`, element.curve);
  if (element.delay === undefined && !instantaneous) fail("missing", "delay", "a delay or a curve", element.delay);
  const stray = CURVE_FIELDS.find((field) => element[field] !== undefined);
  if (stray !== undefined) fail("not-applicable", stray, "nothing, since it belongs to a curve", element[stray]);
}

function checkCurve({ curve }: CurveSetting, { function: name }: SheetElement, { side, laws }: Definition): void {
  const { form } = typeof curve === "string" ? standardCurve(curve) : curve;
  if (laws.length === 1 && laws[0] === "definite")
    fail("not-applicable", "curve", "a delay, since this function has a definite time", curve);
  if (curveSide(curve) !== side)
    fail("conflict", "curve", `a curve of the ${side} side, as function ${name} operates`, curve);
  if (!laws.includes(form))
    fail("not-applicable", "curve", `a curve of the form ${laws.join(" or ")} for function ${name}`, curve);
}

/** A typed time in seconds, 0 or more. */
export function resolveTime(typed: Typed, path: string, frequency: Hertz): Seconds {
  const time = readQuantity(typed, "time", path, { frequency });
  return time.gte(0) ? toNumber(time, path) : fail("out-of-range", path, "a time of 0 s or more", typed);
}
