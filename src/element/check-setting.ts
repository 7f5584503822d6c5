/** Checks of a function's settings, the same for all functions: what each may have is in its definition. */
import { above, atLeast, fail, finite, list, nameIn, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { curveSide, standardCurve, type TableCurve } from "../curve/index.js";
import type { Definition, LevelUnit, LimitAccuracy, OwnField, SystemField } from "./definition.js";
import { definitionOf } from "./definition-of.js";
import { checkDifferentialZone } from "./differential-zone.js";
import type { Accuracy, ElementSetting } from "./setting.js";

const POLARISING = { self: true, quadrature: true, "-3V0": true, "3V0": true, "-V2": true } as const;

const DEAD_SIDES = { running: true, incoming: true, either: true } as const;
const RESTRAINTS = { average: true, sum: true, maximum: true, difference: true } as const;

const OWN = {
  phases: (value: unknown) => void nameIn(value, { any: true, all: true }, "phases"),
  direction: (value: unknown) => void nameIn(value, { rising: true, falling: true, both: true }, "direction"),
  // A frequency is blocked by a voltage.
  blockBelow: (value: unknown, unit: LevelUnit) =>
    optional(value, "blockBelow", ["a blocking level", unit === "A" ? "A" : "V"]),
  armAbove: (value: unknown, unit: LevelUnit) => optional(value, "armAbove", ["an arming level", unit]),
  negativeSequenceFactor: (value: unknown) => optional(value, "negativeSequenceFactor", ["a factor of I2²", ""]),
  polarising: (value: unknown) => void nameIn(value, POLARISING, "polarising"),
  characteristicAngle: (value: unknown) => void finite(value, "characteristicAngle", "an angle in degrees"),
  leading: (value: unknown) => limit(value, "leading"),
  lagging: (value: unknown) => limit(value, "lagging"),
  operates: (value: unknown) => void nameIn(value, { forward: true, reverse: true }, "operates"),
  measures: (value: unknown) => void nameIn(value ?? "current", { current: true, "current-cosine": true }, "measures"),
  minimumVoltage: (value: unknown) => optional(value, "minimumVoltage", ["a minimum voltage", "V"]),
  voltageDifference: (value: unknown) => positive(value, "voltageDifference", ["a difference of two voltages", "V"]),
  slip: (value: unknown) => positive(value, "slip", ["a difference of two frequencies", "Hz"]),
  liveAbove: (value: unknown) => positive(value, "liveAbove", ["a voltage", "V"]),
  deadBelow: (value: unknown) => positive(value, "deadBelow", ["a voltage", "V"]),
  deadClosing: (value: unknown) => void nameIn(value ?? "running", DEAD_SIDES, "deadClosing"),
  closingTime: (value: unknown) => optional(value, "closingTime", ["a closing time", "s"]),
  zone: (value: unknown) => void object(value as object, "zone", "a distance zone { form, lineAngle }"),
  earth: (value: unknown) => void (value === undefined || object(value as object, "earth", "{ factor } or ratios")),
  minimumCurrent: (value: unknown) => optional(value, "minimumCurrent", ["a minimum current", "A"]),
  restraint: (value: unknown) => void nameIn(value, RESTRAINTS, "restraint"),
  // Whether they fit the pickup and each other is checked where the region is made (`differential-region.ts`).
  slopes: (value: unknown) =>
    void list(value as unknown[], "slopes", "a list of one or two slopes { slope, line, begins }", 1),
  secondHarmonic: (value: unknown) =>
    void (value === undefined || above(value, 0, "secondHarmonic", "a ratio to the fundamental")),
} as const satisfies { readonly [F in OwnField]: (value: unknown, unit: LevelUnit) => void };

const SYSTEM = {
  rotation: (value: unknown) => void nameIn(value, { ABC: true, ACB: true }, "rotation"),
  ratedVoltage: (value: unknown) => void above(value, 0, "ratedVoltage", "a voltage", "V"),
  ratedFrequency: (value: unknown) => void above(value, 0, "ratedFrequency", "a frequency", "Hz"),
  zone: (value: unknown) => checkDifferentialZone(value),
} as const satisfies { readonly [F in SystemField]: (value: unknown) => void };

/** An angle on one side of the characteristic angle. */
function limit(value: unknown, path: string): void {
  if (value === undefined) return;
  above(value, 0, path, "an angle", "°");
  if ((value as number) > 170) fail("out-of-range", path, "an angle of at most 170°", value);
}

function optional(value: unknown, path: string, [what, unit]: readonly [string, string]): void {
  if (value !== undefined) atLeast(value, 0, path, what, unit);
}

function positive(value: unknown, path: string, [what, unit]: readonly [string, string]): void {
  if (value !== undefined) above(value, 0, path, what, unit);
}

/**
 * The definition that goes with a setting, after a look at all that it does not leave to others: the function number, what is
 * watched, the function's own fields, the side and form of the time law, the dropout, the accuracies of limits.
 *
 * @throws A {@link InputError} for a function number that this library does not know, a field that is missing or outside its
 * range, a law that does not go with the function or says a dropout beside that of the setting, a dropout on the operating side of the start, and the accuracy of a limit
 * that the function does not have.
 * Accuracy: exact, but for the start of a function, which is the product of two doubles.
 * @source definition
 *
 * @example
 * import { checkedDefinition } from "tripwright/element";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5 } };
 * const law = { curve: { form: "definite", time: 0.3 } } as const;
 * const { unit, side } = checkedDefinition({ id: "50P", function: "50", watches: "phase", pickup: 20, law, measuringDelay: 0.02, contact: "trip", accuracy });
 * [unit, side]; // → ["A", "over"]
 */
export function checkedDefinition(setting: ElementSetting): Definition {
  object(setting, "", "the settings of a function");
  const definition = definitionOf(setting.function);
  above(setting.pickup, 0, "pickup", "a pickup", definition.unit);
  atLeast(setting.measuringDelay, 0, "measuringDelay", "a time", "s");
  nameIn(setting.watches, Object.fromEntries(definition.watches.map((name) => [name, true])), "watches");
  const values = setting as unknown as Readonly<Record<string, unknown>>;
  for (const field of definition.fields) OWN[field](values[field], definition.unit);
  for (const field of definition.system) SYSTEM[field](values[field]);
  definition.check?.(setting);
  checkLaw(setting, definition);
  checkDropout(setting, definition);
  checkLimits(setting, definition);
  return definition;
}

function checkLaw(setting: ElementSetting, { side, laws }: Definition): void {
  const { curve } = object(setting.law, "law", "a time law");
  const own = within("law", () => curveSide(curve));
  if (own !== side)
    fail("conflict", "law.curve", `a curve of the ${side} side, as function ${setting.function} operates`, curve);
  const { form } = typeof curve === "string" ? standardCurve(curve) : curve;
  if (!laws.includes(form))
    fail(
      "not-applicable",
      "law.curve",
      `a curve of the form ${laws.join(" or ")} for function ${setting.function}`,
      form,
    );
  if (setting.law.dropoutRatio !== undefined)
    fail(
      "not-applicable",
      "law.dropoutRatio",
      "nothing: `dropout` says where the function lets go",
      setting.law.dropoutRatio,
    );
  if (typeof curve === "object" && curve.form === "table") checkDrawn(curve, setting.law.startRatio ?? 1);
}

/** A drawn curve that ends where the function starts says nothing of any operation. */
function checkDrawn({ points }: TableCurve, start: number): void {
  if (points.every(({ multiple }) => multiple <= start))
    fail("out-of-range", "law.curve.points", `a point beyond the start at ${start} × the setting`, points);
}

const LIMITS: { readonly [A in LimitAccuracy]: string } = { angle: "degrees", voltage: "volts", frequency: "hertz" };

/** Refuses the accuracy of a limit that the function does not have: no reading would be held against it. */
function checkLimits(setting: ElementSetting, { heldTo }: Definition): void {
  const accuracy: Partial<Accuracy> = setting.accuracy ?? {};
  const held = heldTo?.(setting) ?? [];
  for (const [name, unit] of Object.entries(LIMITS) as [LimitAccuracy, string][]) {
    const given = accuracy[name];
    if (given === undefined || held.includes(name)) continue;
    const expected = `nothing, since function ${setting.function} with these settings has no limit in ${unit} beside its pickup`;
    fail("not-applicable", `accuracy.${name}`, expected, given);
  }
  checkAngle(accuracy);
}

/** A percentage of an angle would depend on where the angle is counted from. */
function checkAngle({ angle }: Partial<Accuracy>): void {
  if (angle === undefined) return;
  if (angle.percent !== undefined) fail("not-applicable", "accuracy.angle.percent", "degrees alone", angle.percent);
  above(angle.absolute, 0, "accuracy.angle.absolute", "a tolerance", "°");
}

/** Checks a declared dropout: on the quiet side of the start, or on it, and above 0. */
function checkDropout({ dropout, pickup, law }: ElementSetting, { side, unit, practice }: Definition): void {
  const start = pickup * above(law.startRatio ?? 1, 0, "law.startRatio", "a multiple of the setting");
  if (dropout === undefined) {
    // The usual difference leaves an over function with a tiny setting nowhere to let go.
    const usual = side === "over" && "difference" in practice.dropout ? practice.dropout.difference : 0;
    if (!Number.isFinite(start) || start <= usual)
      fail(
        "out-of-range",
        "pickup",
        `a setting that starts above the usual dropout difference of ${usual} ${unit}`,
        pickup,
      );
    return;
  }
  const given = options(dropout, ["ratio", "difference"], "dropout") as { ratio?: number; difference?: number };
  if (given.ratio === undefined) {
    const back = atLeast(given.difference, 0, "dropout.difference", "a difference from the start", unit);
    if (side === "over" && back >= start)
      fail("out-of-range", "dropout.difference", `a difference below the start of ${start} ${unit}`, back);
    return;
  }
  if (given.difference !== undefined) fail("conflict", "dropout", "either a ratio or a difference", dropout);
  above(given.ratio, 0, "dropout.ratio", "a ratio to the start");
  if (side === "over" ? given.ratio > 1 : given.ratio < 1)
    fail(
      "out-of-range",
      "dropout.ratio",
      `a ratio to the start of ${side === "over" ? "at most" : "at least"} 1`,
      given.ratio,
    );
}
