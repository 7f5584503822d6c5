/**
 * The shape of a setting sheet for valibot: what `readSheet` holds a sheet against, and what the JSON Schema is made
 * from. The message of every schema says what is expected, so that problems read alike wherever they are found.
 */
import * as v from "valibot";
import { KIND_OF_UNIT } from "../base/quantity.js";
import { type CurveName, curveNames } from "../curve/index.js";
import { definitionOf, type FunctionNumber, functionNumbers, type OwnField } from "../element/index.js";
import { differentialZone, slopes } from "./differential-shape.js";
import { distanceZone, earth } from "./distance-shape.js";
import type { Sheet, SheetElement } from "./sheet.js";
import { inputs, source } from "./source-shape.js";
import { number, oneOf, ratio, text, time, tolerances, typed } from "./typed-shape.js";

const k = time("The constant k");
const ofPower = { k, alpha: number("The exponent"), c: time("The additive constant") };

const points = v.array(
  v.strictObject(
    { multiple: number("The multiple of the setting"), time: time("The time at that multiple") },
    "a point { multiple, time }",
  ),
  "a list of points { multiple, time }",
);

const constants = v.variant(
  "form",
  [
    v.strictObject({
      form: v.literal("inverse"),
      ...ofPower,
      reset: v.optional(time("The reset constant")),
    }),
    v.strictObject({ form: v.literal("under"), ...ofPower }),
    v.strictObject({ form: v.literal("excess"), k, power: number("The power of the excess") }),
    v.strictObject({ form: v.literal("energy"), k, maximumTime: v.optional(time("The longest time")) }),
    v.strictObject({
      form: v.literal("thermal"),
      tau: time("The heating time constant"),
      coolingTau: v.optional(time("The cooling time constant")),
    }),
    v.strictObject({ form: v.literal("table"), points }),
  ],
  "one of inverse, under, excess, energy, thermal, table",
);

const curve = v.pipe(
  v.union(
    [v.picklist(curveNames as readonly [CurveName, ...CurveName[]]), constants],
    `one of ${curveNames.join(", ")}, or constants such as { form, k, alpha, c }`,
  ),
  v.description("A standard curve by name, or constants: t = k/(M^alpha − 1) + c and other forms."),
);

const reset = v.variant(
  "form",
  [
    v.strictObject({ form: v.literal("instantaneous") }),
    v.strictObject({ form: v.literal("definite"), time: time("The reset time") }),
    v.strictObject({ form: v.literal("disk"), time: v.optional(time("The reset constant")) }),
    v.strictObject({
      form: v.literal("cooling"),
      release: number("The share of the thermal level at which it lets go"),
    }),
  ],
  'a reset such as { "form": "instantaneous" }',
);

function common(kind: Exclude<keyof typeof tolerances, "time">, limits: v.ObjectEntries) {
  const accuracy: v.ObjectEntries = {
    pickup: tolerances[kind],
    time: tolerances.time,
    dropout: v.optional(tolerances[kind]),
    ...limits,
  };
  return {
    id: text("The name of the element on the sheet"),
    enabled: v.optional(v.boolean("true or false")),
    values: v.optional(oneOf(["primary", "secondary"], "On which side this element is written")),
    pickup: typed(kind, "The setting"),
    step: v.optional(typed(kind, "The step in which the relay takes the setting")),
    dropoutRatio: v.optional(typed("ratio", "Where it lets go, as a ratio to the start")),
    dropoutDifference: v.optional(typed(kind, "Where it lets go, as a difference back from the start")),
    contact: v.optional(text("The contact that operates after the time law")),
    startContact: v.optional(text("The contact that follows the start without delay")),
    measuringDelay: v.optional(time("Response of the function apart from its time law")),
    accuracy: v.strictObject(accuracy, "the published accuracies { pickup, time }"),
    delay: v.optional(time("A definite time")),
    curve: v.optional(curve),
    multiplier: v.optional(number("The time multiplier of the curve (IEC TMS, IEEE time dial)")),
    startRatio: v.optional(number("The curve starts only beyond this ratio to the setting")),
    ceilingMultiple: v.optional(number("The curve goes flat above this multiple")),
    minimumTime: v.optional(time("A floor on the curve's time")),
    addedTime: v.optional(time("Added to the time law")),
    reset: v.optional(reset),
  };
}

/** What blocks and arms is a current for functions of current, a voltage for all others. */
const OWN = {
  phases: () => v.optional(oneOf(["any", "all"], "Whether one phase beyond the setting is enough")),
  blockBelow: (kind) => v.optional(typed(kind, "Blocked while everything that is watched is below this")),
  armAbove: (kind) => v.optional(typed(kind, "Waits until what is watched has been above this")),
  direction: () => oneOf(["rising", "falling", "both"], "Which way the frequency moves"),
  negativeSequenceFactor: () => v.optional(number("How much more the negative sequence heats")),
  polarising: () => oneOf(["self", "quadrature", "-3V0", "3V0", "-V2"], "What the current is compared with"),
  characteristicAngle: () => typed("angle", "Of the current to its polarising quantity, where it is most sensitive"),
  leading: () => v.optional(typed("angle", "How far the current may lead the characteristic angle")),
  lagging: () => v.optional(typed("angle", "How far the current may lag the characteristic angle")),
  operates: () => oneOf(["forward", "reverse"], "On which side it operates"),
  measures: () => v.optional(oneOf(["current", "current-cosine"], "The current, or its part along the angle")),
  minimumVoltage: () => v.optional(typed("voltage", "Blocked while the polarising quantity is below this")),
  voltageDifference: () => v.optional(typed("voltage", "How far the sizes of the two voltages may lie apart")),
  slip: () => v.optional(typed("frequency", "How far the two frequencies may lie apart")),
  liveAbove: () => v.optional(typed("voltage", "What both sides must have")),
  deadBelow: () => v.optional(typed("voltage", "A side with less than this is dead")),
  deadClosing: () => v.optional(oneOf(["running", "incoming", "either"], "Which side may be dead")),
  closingTime: () => v.optional(time("The closing time of the breaker, added as an angle")),
  zone: () => distanceZone,
  earth: () => v.optional(earth),
  minimumCurrent: () => v.optional(typed("current", "Each phase of a loop carries this, or it is not measured")),
  restraint: () => oneOf(["average", "sum", "maximum", "difference"], "How the restraint is made of both sides"),
  slopes: () => slopes,
  secondHarmonic: () => v.optional(typed("ratio", "The second harmonic over the fundamental that blocks")),
} as const satisfies { readonly [F in OwnField]: (kind: "current" | "voltage") => v.GenericSchema };

/** The shape of the elements of some functions that are alike, made from the definition of the first. */
function shapeOf(names: readonly [FunctionNumber, ...FunctionNumber[]]) {
  const { unit, watches, fields } = definitionOf(names[0]);
  const choice = oneOf(watches as readonly string[], "What is watched");
  return v.strictObject({
    function: v.picklist(names),
    watches: watches.length === 1 ? v.optional(choice) : choice,
    ...Object.fromEntries(fields.map((field) => [field, OWN[field](unit === "A" ? "current" : "voltage")])),
    ...common(KIND_OF_UNIT[unit], {
      // A zone of a distance function looks between two angles.
      ...((fields.includes("characteristicAngle") || fields.includes("zone")) && {
        angle: v.optional(tolerances.angle),
      }),
      ...(fields.includes("voltageDifference") && { voltage: v.optional(tolerances.voltage) }),
      ...(fields.includes("slip") && { frequency: v.optional(tolerances.frequency) }),
    }),
  });
}

/** Functions whose elements have the same fields stand together, so that the JSON Schema says each shape once. */
function alike(): (readonly [FunctionNumber, ...FunctionNumber[]])[] {
  const groups = new Map<string, [FunctionNumber, ...FunctionNumber[]]>();
  for (const name of functionNumbers) {
    const { unit, watches, fields } = definitionOf(name);
    const key = JSON.stringify([unit, watches, fields]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [name]);
    else group.push(name);
  }
  return [...groups.values()];
}

const element = v.variant(
  "function",
  alike().map(shapeOf) as unknown as [ReturnType<typeof shapeOf>],
  `an element with a function as text such as "51", one of ${functionNumbers.join(", ")}`,
) as unknown as v.GenericSchema<unknown, SheetElement>;

/** What the JSON Schema names once and refers to. */
export const sharedShapes = { curve, reset, ...tolerances };

/** The whole sheet. */
export const sheetShape = v.strictObject(
  {
    format: v.literal("tripwright/sheet@1", '"tripwright/sheet@1"'),
    $schema: v.optional(v.string("the address of a JSON Schema, as text")),
    substation: text("The substation"),
    feeder: text("The feeder or bay"),
    relay: text("The designation of the relay"),
    note: v.optional(v.string("a note, as text")),
    frequency: typed("frequency", "The frequency of the system"),
    rotation: v.optional(oneOf(["ABC", "ACB"], "The phase rotation")),
    values: oneOf(["primary", "secondary"], "On which side of the instrument transformers the settings are written"),
    ct: v.optional(ratio("400/5", "The current transformer ratio")),
    vt: v.optional(ratio("11 kV/110 V", "The voltage transformer ratio, line to line")),
    groundCt: v.optional(ratio("100/1", "The ratio of a current transformer of its own for the input ig")),
    openDeltaVt: v.optional(ratio("11 kV/110 V", "The ratio of the open-delta winding for the input vn")),
    zone: v.optional(differentialZone),
    source: v.optional(source),
    inputs: v.optional(inputs),
    decisionRule: v.optional(oneOf(["simple", "guarded", "three-way"], "How uncertainty enters the verdicts")),
    elements: v.pipe(
      v.array(element, "a list of elements"),
      v.nonEmpty("a list of one element or more"),
      v.description("The protective functions of the relay."),
    ),
  },
  "a setting sheet, an object",
) satisfies v.GenericSchema<unknown, Sheet>;
