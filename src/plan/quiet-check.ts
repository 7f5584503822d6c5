import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import type { ChannelStates } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { operateTime } from "../curve/index.js";
import { definiteTimeOf, type ElementSetting, lawOf, type Still, standingAt, startLevel } from "../element/index.js";
import { band } from "../grading/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { faultSequence } from "../timeline/index.js";
import { beyondSource } from "./beyond-source.js";
import type { Check } from "./check.js";
import { checkOf } from "./check-of.js";
import { expectPickup, expectTime, toleranceOfStart } from "./expect.js";
import { runsAway, watchedContact } from "./injected.js";
import { healthyBefore, inFrontOfHealthy, type Posed, poseInFrontOf } from "./posed.js";
import { sourceErrors } from "./source-error.js";
import { definition, isInverse } from "./started.js";
import { movementThrough, startShows, toTenMilliseconds } from "./sweep.js";
import { settleFor } from "./time-check.js";
import { clearlyBeyond } from "./timed-points.js";

/** Nobody waits longer than this for nothing to happen. */
const LONGEST: Seconds = 60;

/**
 * Nothing may happen at the setting less (over) or plus (under) its tolerance and what the source may be off, for longer
 * than the slowest acceptable operation would take.
 */
export function quietCheck(element: ElementSetting, settings: RelaySettings): Answer<{ check: Check }, string> {
  const { unit, side } = definition(element);
  const accepted = toleranceOfStart(element);
  const limit = side === "over" ? accepted.low : accepted.high;
  if (limit === undefined)
    return { kind: "none", reason: "the declared accuracy of the pickup has no limit on the quiet side" };
  const posed = poseInFrontOf(element, settings);
  if (posed.kind === "none") return posed;
  const level = limit <= 0 ? limit : quietLevel(decimal(limit, "pickup"), { element, posed, settings });
  if (level <= 0) return { kind: "none", reason: `the tolerance leaves no level above 0 ${unit} on the quiet side` };
  const held = heldFor(element, level);
  const because = {
    rule: `${side === "over" ? "below" : "above"} the setting by its tolerance and the accuracy of the source, held for longer than the slowest operation`,
    numbers: { setting: element.pickup, limit, level, held },
  };
  return stillCheck({ name: "quiet", level, held, posed, because }, element, settings);
}

/** The levels at which a function has to stay quiet because of what stands beside them. */
export const stillsOf = (element: ElementSetting, { setup }: RelaySettings): readonly Still[] =>
  definition(element).stills?.(element, setup) ?? [];

/** One of them: held for as long as an operation there would take at the slowest. */
export function asideCheck(
  still: Still,
  element: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const { setup } = settings;
  const posed = inFrontOfHealthy(still.pose, definition(element).healthyLevel(element, setup), settings);
  if (posed.kind === "none") return posed;
  const { level, why } = still;
  // A definite time is the same everywhere, and the level may lie on the quiet side of the start.
  const slowest = expectTime(element, isInverse(element) ? level : clearlyBeyond(element));
  const latest = slowest.kind === "found" ? (slowest.band.high ?? 2 * slowest.band.nominal) : LONGEST;
  const held = toTenMilliseconds(Math.min(LONGEST, 1.1 * latest + 4 * element.measuringDelay));
  const because = {
    rule: `${why}, held for longer than the slowest operation`,
    numbers: { setting: element.pickup, level, held },
  };
  return stillCheck({ name: `quiet@${still.name}`, level, held, posed, because }, element, settings);
}

interface Quiet {
  /** Behind the name of the element. */
  readonly name: string;
  readonly level: number;
  readonly held: Seconds;
  readonly posed: Posed;
  readonly because: Check["because"];
}

function stillCheck(
  { name, level, held, posed, because }: Quiet,
  element: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const tooFar = runsAway(element, { to: level, hold: held }, settings);
  if (tooFar !== undefined) return { kind: "none", reason: tooFar };
  const contact = watchedContact(element);
  const timeline = faultSequence({
    before: withoutHarmonics(healthyBefore(posed)),
    fault: standingAt(posed, level),
    settleFor: settleFor(element),
    giveUpAfter: held,
    endsOn: { contact, to: "closed" },
    wiring: posed.wiring,
  });
  const tooMuch = beyondSource(timeline, settings);
  if (tooMuch !== undefined) return { kind: "none", reason: tooMuch };
  const { unit } = definition(element);
  const expect = { form: "stays-quiet", held } as const;
  const proof = { name, proves: "no-operation", contact, timeline, unit, level, posed, expect, because } as const;
  return { kind: "found", check: checkOf(proof, element, settings) };
}

/** What is distorted in the injection is not so before it. */
const withoutHarmonics = (channels: ChannelStates): ChannelStates =>
  Object.fromEntries(Object.entries(channels).map(([name, { harmonics: _, ...state }]) => [name, state]));

/** The limit on the quiet side, and what the source may be off, further away from the setting. */
function quietLevel(
  limit: Decimal,
  { element, posed, settings }: { element: ElementSetting; posed: Posed; settings: RelaySettings },
): number {
  const { side } = definition(element);
  const level = toNumber(limit, "pickup");
  const { wiring } = posed;
  const putOut = { element: element.id, level, channels: standingAt(posed, level), wiring };
  const errors = sourceErrors(settings, putOut);
  const {
    nominal,
    low = nominal,
    high = nominal,
  } = band(limit, { absolute: errors.reduce((sum, half) => sum + half, 0) });
  // Outwards to a tenth of the step of the pickup sweep, so that a person can set it.
  const fine = movementThrough(expectPickup(element).band, startShows(element)).step.div(10);
  const steps = decimal(side === "over" ? low : high, "pickup").div(fine);
  return toNumber((side === "over" ? steps.floor() : steps.ceil()).times(fine), "pickup");
}

/**
 * How long nothing may happen: a start contact would have shown at once, a definite time by its latest limit. An inverse
 * time has no limit near the setting: the level is held for as long as the function would take at the mirrored level, as
 * far beyond its start (by ratio) as this one lies before it.
 */
function heldFor(element: ElementSetting, level: number): Seconds {
  const { startContact, law, measuringDelay, accuracy, pickup } = element;
  const response = 4 * measuringDelay;
  if (startContact !== undefined) return toTenMilliseconds(Math.max(1, response));
  const delay = definiteTimeOf(law);
  if (delay !== undefined) {
    const { nominal, high = nominal } = band(delay, accuracy.time);
    return toTenMilliseconds(1.1 * high + response);
  }
  const start = startLevel(element);
  const { curve } = law;
  if (typeof curve === "object" && curve.form === "table") return LONGEST;
  const time = operateTime(lawOf(element), (start * start) / level / pickup);
  return toTenMilliseconds(Math.min(LONGEST, time + response));
}
