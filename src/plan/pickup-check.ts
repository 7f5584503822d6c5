import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, larger, smaller, toNumber } from "../base/exact.js";
import type { Piece } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { type ElementSetting, inputsOf, operateTimeOf } from "../element/index.js";
import { band } from "../grading/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { ramp, staircase, stepsWithRest } from "../timeline/index.js";
import { beyondSource, cautionsOf, heats, type Posed, poseInFrontOf } from "./bench.js";
import type { Check, Sweep } from "./check.js";
import { definition, expectPickup, isInverse, startOf } from "./expect.js";
import { interferers } from "./interference.js";

/** Settle at the quiet end before the first step; rest between pulses. */
const SETTLE: Seconds = 2;
const REST: Seconds = 2;
/** Steps per tolerance: the reading is never off by more than a fifth of it. */
const STEPS_PER_TOLERANCE = 5;
const MOST_STEPS = 2_000;

/**
 * A sweep from where the function is quiet through its start: steps no wider than a fifth of the tolerance, each held
 * longer than the function takes to respond.
 */
export function pickupCheck(setting: ElementSetting, settings: RelaySettings): Answer<{ check: Check }, string> {
  if (setting.startContact === undefined && isInverse(setting)) {
    return {
      kind: "none",
      reason:
        "near the setting an inverse time grows without bound, so its trip contact cannot show the pickup; name a start contact, or fit the pickup to timed injections",
    };
  }
  const posed = poseInFrontOf(setting, settings);
  if (posed.kind === "none") return posed;
  const sweep = sweepOf(setting, posed, settings);
  if (sweep.kind === "none") return sweep;
  const timeline = ramp({ base: posed.base, lever: posed.lever, pieces: piecesOf(sweep), wiring: posed.wiring });
  const tooMuch = beyondSource(timeline, settings);
  if (tooMuch !== undefined) return { kind: "none", reason: tooMuch };
  const { channels } = timeline.segments[sweep.rest === undefined ? 0 : 1] as (typeof timeline.segments)[number];
  if (Number.isFinite(operateTimeOf(setting, inputsOf(channels, timeline.wiring)))) {
    return {
      kind: "none",
      reason: `already operates at ${sweep.from} ${definition(setting).unit}, where the sweep would have to begin`,
    };
  }
  const far = ramp({
    base: posed.base,
    lever: posed.lever,
    wiring: posed.wiring,
    pieces: [{ duration: 1, from: sweep.to, to: sweep.to }],
  }).segments[0];
  if (!Number.isFinite(operateTimeOf(setting, inputsOf(far?.channels ?? {}, timeline.wiring)))) {
    return {
      kind: "none",
      reason: `is blocked at ${sweep.to} ${definition(setting).unit}, where the sweep would have to end`,
    };
  }
  const { unit, band: accepted, rule, numbers } = expectPickup(setting);
  const { kind: _, exact: __, ...found } = sweep;
  const check: Check = {
    id: `${setting.id}/pickup`,
    element: setting.id,
    function: setting.function,
    proves: "pickup",
    contact: setting.startContact ?? setting.contact,
    timeline,
    unit: definition(setting).unit,
    sweep: found,
    expect: { form: "band", unit, band: accepted },
    because: { rule, numbers },
    cautions: [...cautionsOf(timeline, settings), ...ownTrip(setting)],
    block: interferers(setting, settings.elements, { timeline, contact: setting.startContact ?? setting.contact }),
  };
  return { kind: "found", check };
}

const ownTrip = ({ startContact, contact }: ElementSetting): string[] =>
  startContact === undefined ? [] : [`The start contact is watched; contact ${contact} may operate meanwhile.`];

/** The sweep in exact decimals, so that the setting itself is one of its levels. */
function sweepOf(
  setting: ElementSetting,
  { healthyLevel }: Posed,
  settings: RelaySettings,
): Answer<PlannedSweep, string> {
  const { side, unit } = definition(setting);
  const start = startOf(setting);
  const half = narrowestHalf(setting, start);
  const step = roundedDown(half.div(STEPS_PER_TOLERANCE));
  const steps = stepsAround(setting, start, half, step);
  if (steps.gt(MOST_STEPS)) {
    return {
      kind: "none",
      reason: `a tolerance of ${half.toString()} ${unit} asks for steps of ${step.toString()} ${unit}, more than ${2 * MOST_STEPS} of them`,
    };
  }
  const [below, above] = [start.minus(step.times(steps)), start.plus(step.times(steps))];
  const [from, to] = side === "over" ? [below, above] : [above, below];
  const rest =
    unit === "A" && heats(toNumber(to, "pickup"), settings) ? { rest: { level: healthyLevel, time: REST } } : {};
  const numbers = { from: toNumber(from, "pickup"), to: toNumber(to, "pickup"), step: toNumber(step, "pickup") };
  return { kind: "found", ...numbers, hold: holdOf(setting), ...rest, exact: { from, to, step } };
}

function narrowestHalf({ accuracy }: ElementSetting, start: Decimal): Decimal {
  const { low, high } = band(start, accuracy.pickup);
  const halves = [low, high]
    .filter((limit) => limit !== undefined)
    .map((limit) => decimal(limit, "limit").minus(start).abs());
  return halves.reduce(smaller);
}

/** Down to 1, 2 or 5 times a power of ten, which a source can set and a person can read. */
function roundedDown(x: Decimal): Decimal {
  const power = decimal(`1e${x.e}`, "step");
  const digit = [5, 2, 1].find((candidate) => power.times(candidate).lte(x)) as number;
  return power.times(digit);
}

/** As far as practice says, at least twice the tolerance, never through zero. */
function stepsAround(setting: ElementSetting, start: Decimal, half: Decimal, step: Decimal): Decimal {
  const { around } = definition(setting).practice;
  const usual = "ratio" in around ? start.times(around.ratio) : decimal(around.difference, "around");
  const wanted = larger(usual, half.times(2)).div(step).ceil();
  return smaller(wanted, start.div(step).floor());
}

/** Longer than the response: measuring delay, plus the time delay where only the trip contact is watched. */
function holdOf({ startContact, law, measuringDelay, accuracy }: ElementSetting): Seconds {
  const response = 2 * measuringDelay;
  if (startContact !== undefined || typeof law.curve === "string" || law.curve.form !== "definite")
    return toTenMilliseconds(response);
  const { nominal, high = nominal } = band(law.curve.time + (law.addedTime ?? 0), accuracy.time);
  return toTenMilliseconds(high + response);
}

/** Up to whole 10 ms, at least 50 ms. */
export const toTenMilliseconds = (time: Seconds): Seconds => Math.max(5, Math.ceil(time * 100 - 1e-9)) / 100;

/** The ends are taken as exact as they are: as doubles they might be a rounding more or less than whole steps apart. */
function piecesOf({ hold, rest, exact }: PlannedSweep): Piece[] {
  const { from, to, step } = exact;
  if (rest !== undefined) return stepsWithRest({ rest: rest.level, restTime: rest.time, from, to, step, hold });
  const quiet = toNumber(from, "pickup");
  return [{ duration: SETTLE, from: quiet, to: quiet }, ...staircase({ from, to, step, dwell: hold })];
}

interface PlannedSweep extends Sweep {
  readonly exact: { readonly from: Decimal; readonly to: Decimal; readonly step: Decimal };
}
