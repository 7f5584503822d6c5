/** Relays that are not right: what is off, and how far their readings scatter. */
import { above, atLeast, fail, finite, object, options, whole } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Degrees, Seconds } from "../base/units.js";
import { advance, type CurveSetting, standardCurve } from "../curve/index.js";
import { checkedDefinition, dropoutLevel, type ElementSetting, lawOf, startLevel } from "../element/index.js";
import type { Rehearsed } from "./relay-state.js";

/** What is off in one function. */
export interface ElementError {
  /** It starts at so many times its setting: 1.02 is 2 % high. Default 1. */
  readonly pickup?: number;
  /** Its time law takes so many times as long: 1.1 is 10 % slow. Default 1. */
  readonly time?: number;
  /** Seconds that its contact is late beside its time law. Default 0. */
  readonly delay?: Seconds;
  /** Its characteristic angle is so much more than its setting, where it has one. Default 0°. */
  readonly angle?: Degrees;
  /** Standard deviations from one injection to the next: of the pickup as a share of it, of the delay in seconds. */
  readonly scatter?: { readonly pickup?: number; readonly delay?: Seconds };
}

/** What is off, by the ids of the elements. */
export interface RelayErrors {
  readonly [element: string]: ElementError;
}

/** Which errors a rehearsal plays; scatter needs a seed, so that it can be played again. */
export interface RehearsalOptions {
  readonly errors?: RelayErrors;
  /** A whole number from 0 to 2^32 − 1. */
  readonly seed?: number;
}

/** Checks the options, and that errors are of elements that take part. */
export function checkOptions(given: RehearsalOptions, elements: readonly ElementSetting[]): RehearsalOptions {
  const { errors = {}, seed } = options(given, ["errors", "seed"]);
  if (seed !== undefined) whole(seed, [0, 4294967295], "seed", "a seed");
  object(errors, "errors", "errors by element, such as { 51P: { pickup: 1.02 } }");
  for (const [id, error] of Object.entries(errors)) {
    within(`errors.${id}`, () => {
      const setting = elements.find((element) => element.id === id);
      if (setting === undefined)
        return fail("unknown-name", "", `one of the elements ${elements.map((element) => element.id).join(", ")}`, id);
      checkError(error);
      if (error.angle !== undefined && !("characteristicAngle" in setting))
        fail(
          "not-applicable",
          "angle",
          "no error of an angle, since the element has no characteristic angle",
          error.angle,
        );
    });
    if (seed === undefined && scatters(error))
      fail("missing", "seed", `a seed, so that the scatter of ${id} can be played again`, seed);
  }
  return given;
}

const scatters = ({ scatter: { pickup = 0, delay = 0 } = {} }: ElementError): boolean => pickup > 0 || delay > 0;

function checkError(error: ElementError): void {
  const {
    pickup = 1,
    time = 1,
    delay = 0,
    angle = 0,
    scatter,
  } = options(error, ["pickup", "time", "delay", "angle", "scatter"]);
  above(pickup, 0, "pickup", "a ratio to the setting");
  above(time, 0, "time", "a ratio to the time law");
  finite(delay, "delay", "a time in seconds");
  finite(angle, "angle", "an angle in degrees");
  if (scatter === undefined) return;
  const { pickup: share = 0, delay: seconds = 0 } = options(scatter, ["pickup", "delay"], "scatter");
  atLeast(share, 0, "scatter.pickup", "a share of the pickup");
  atLeast(seconds, 0, "scatter.delay", "a time", "s");
}

/** A function with what it plays; `draw` gives the scatter of this injection. */
export function rehearsed(setting: ElementSetting, error: ElementError = {}, draw: () => number = () => 0): Rehearsed {
  const { side } = checkedDefinition(setting);
  const { pickup = 1, time = 1, delay = 0, scatter = {} } = error;
  const [highPickup, highDelay] = [scatter.pickup ? draw() : 0, scatter.delay ? draw() : 0];
  // However far a draw lies out, a pickup stays above 0.
  const ratio = pickup * Math.max(0.01, 1 + (scatter.pickup ?? 0) * highPickup);
  // What is declared holds for the setting on the sheet: a relay that is off need not lie within it.
  const accuracy = { ...setting.accuracy, pickup: { percent: 0 } };
  const played = turned({ ...setting, pickup: setting.pickup * ratio, accuracy }, error.angle ?? 0);
  const law = lawOf(played);
  // Looks at all of the law, so that what is wrong with it is told here.
  within("law", () => advance(law, { elapsed: 0, travel: 0 }, { multiple: side === "over" ? 0 : 10, dt: 1 }));
  return {
    setting: played,
    side,
    thresholds: { start: startLevel(played) / played.pickup, dropout: dropoutLevel(played) / played.pickup },
    form: typeof law.curve === "string" ? standardCurve(law.curve).form : law.curve.form,
    law: withinDrawn(stretched(law, time)),
    late: delay + (scatter.delay ?? 0) * highDelay,
  };
}

/** The same element, looking so much further ahead. */
const turned = <S extends ElementSetting>(setting: S, by: Degrees): S =>
  "characteristicAngle" in setting ? { ...setting, characteristicAngle: setting.characteristicAngle + by } : setting;

/** The same law, all of it so many times as long: the multiplier scales every form of curve. */
function stretched(law: CurveSetting, ratio: number): CurveSetting {
  const { multiplier = 1, minimumTime, addedTime } = law;
  return {
    ...law,
    multiplier: multiplier * ratio,
    ...(minimumTime !== undefined && { minimumTime: minimumTime * ratio }),
    ...(addedTime !== undefined && { addedTime: addedTime * ratio }),
  };
}

/**
 * A drawn curve says nothing before its first point and beyond its last; a relay does something there. This one starts without
 * operating before the first, and takes the time of the last beyond it.
 */
function withinDrawn(law: CurveSetting): CurveSetting {
  if (typeof law.curve === "string" || law.curve.form !== "table") return law;
  const { startRatio = 0, dropoutRatio = 1, ceilingMultiple = Number.POSITIVE_INFINITY } = law;
  const multiples = law.curve.points.map(({ multiple }) => multiple);
  const start = Math.max(startRatio, ...multiples.slice(0, 1));
  return {
    ...law,
    startRatio: start,
    dropoutRatio: dropoutRatio * (startRatio / start),
    ceilingMultiple: Math.min(ceilingMultiple, ...multiples.slice(-1)),
  };
}
