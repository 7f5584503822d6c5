/** The check of an operate time: a healthy state, then a step. */
import type { Answer } from "../base/answer.js";
import { decimal, toNumber } from "../base/exact.js";
import type { Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { written } from "../base/written.js";
import { curveSide, resetTime } from "../curve/index.js";
import { type ElementSetting, inputsOf, lawOf, standingAt } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { faultSequence } from "../timeline/index.js";
import { beyondSource } from "./beyond-source.js";
import type { Check } from "./check.js";
import { checkOf } from "./check-of.js";
import { expectTime, latestStart } from "./expect.js";
import { runsAway } from "./injected.js";
import { interferers } from "./interference.js";
import { healthyBefore, type Posed, poseInFrontOf } from "./posed.js";
import { definition, isInverse, isStartedBy } from "./started.js";
import { toTenMilliseconds } from "./sweep.js";
import { isSurelyBeyond, type TimedPoint } from "./timed-points.js";

/** Long enough for the filters of a relay to settle. */
const SETTLE: Seconds = 2;

/** Also long enough for a disk to run back from full travel, since the injection before may have left it there. */
export function settleFor(element: ElementSetting): Seconds {
  const law = lawOf(element);
  // A thermal image is brought back by hand: nobody waits for hours.
  if (typeof law.curve === "object" && law.curve.form === "thermal") return SETTLE;
  const back = resetTime(law, curveSide(law.curve) === "over" ? 0 : Number.MAX_VALUE);
  return Math.max(SETTLE, toTenMilliseconds(back));
}

/** Why no time can be asked for at a level at which a relay that is right need not have started; nothing where it must. */
function withinTolerance(level: number, element: ElementSetting): string | undefined {
  if (isSurelyBeyond(level, element)) return undefined;
  const { side, unit } = definition(element);
  const latest = written(latestStart(element), unit);
  return `${written(level, unit)} is not ${side === "over" ? "above" : "below"} where ${element.id} starts at the latest (${latest}, with its tolerance)`;
}

/** The time at the level of a point or, where elements must be blocked for that, at the level of `orElse` with the fewest to block. */
export function timeCheck(
  point: TimedPoint,
  element: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const first = timeAt(point, element, settings);
  if (first.kind === "none") return nearestOf(point, element, settings) ?? first;
  if (first.check.block.length === 0) return first;
  let best = first;
  for (const level of point.orElse ?? []) {
    const other = timeAt({ name: point.name, level }, element, settings);
    if (other.kind === "found" && other.check.block.length < best.check.block.length) best = other;
  }
  return best;
}

/** The time nearer to the start, where it can be had there at the least. */
function nearestOf({ name, nearest }: TimedPoint, element: ElementSetting, settings: RelaySettings) {
  const nearer = nearest === undefined ? undefined : timeAt({ name, level: nearest }, element, settings);
  return nearer?.kind === "found" ? nearer : undefined;
}

/** A healthy state, then a step to the level for as long as anybody waits; the clock runs from the step. */
const stepTo = (
  { level, hold, posed }: { readonly level: number; readonly hold: Seconds; readonly posed: Posed },
  element: ElementSetting,
): Timeline =>
  faultSequence({
    before: healthyBefore(posed),
    fault: standingAt(posed, level),
    settleFor: settleFor(element),
    giveUpAfter: hold,
    endsOn: { contact: element.contact, to: "closed" },
    wiring: posed.wiring,
  });

/** The check at one level, or why there is none. */
function timeAt(
  { name, level }: TimedPoint,
  element: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const expected = expectTime(element, level);
  if (expected.kind === "none") return expected;
  const tooNear = withinTolerance(level, element);
  if (tooNear !== undefined) return { kind: "none", reason: tooNear };
  const posed = poseInFrontOf(element, settings);
  if (posed.kind === "none") return posed;
  const { band, rule, numbers } = expected;
  const hold = giveUpAfter(band.high ?? 2 * band.nominal, element);
  const tooFar = runsAway(element, { to: level, hold }, settings);
  if (tooFar !== undefined) return { kind: "none", reason: tooFar };
  const timeline = stepTo({ level, hold, posed }, element);
  const reason = beyondSource(timeline, settings) ?? whyNot(element, timeline);
  if (reason !== undefined) return { kind: "none", reason };
  const proof = {
    name,
    proves: "operate-time",
    contact: element.contact,
    timeline,
    unit: definition(element).unit,
    level,
    posed,
    expect: { form: "band", unit: "s", band },
    because: { rule, numbers },
    cautions: thermalCaution(element),
  } as const;
  const check = checkOf(proof, element, settings);
  if (check.block.length === 0) return { kind: "found", check };
  return { kind: "found", check: { ...check, ...alternativeTo(level, element, { posed, settings }) } };
}

/** What the relay remembers of the injection before. */
function thermalCaution({ law: { curve } }: ElementSetting): string[] {
  return typeof curve === "object" && curve.form === "thermal"
    ? [
        "The time is that from cold: reset the thermal image before each injection, or let it cool for five time constants.",
      ]
    : [];
}

/** Multiples between the usual ones, from the clearest down. */
const LADDER = [10, 8, 6, 5, 4, 3, 2.5, 2, 1.5];

/** The highest multiple below at which an inverse time can be measured with nothing blocked. */
function alternativeTo(
  level: number,
  element: ElementSetting,
  { posed, settings }: { readonly posed: Posed; readonly settings: RelaySettings },
): Pick<Check, "alternative"> {
  if (!isInverse(element) || definition(element).side === "under") return {};
  const pickup = decimal(element.pickup, "pickup");
  for (const multiple of LADDER) {
    const lower = toNumber(pickup.times(multiple), "pickup");
    const expected = expectTime(element, lower);
    if (lower >= level || expected.kind === "none" || !isSurelyBeyond(lower, element)) continue;
    const hold = giveUpAfter(expected.band.high ?? 2 * expected.band.nominal, element);
    const timeline = stepTo({ level: lower, hold, posed }, element);
    if (interferers(element, settings.elements, { timeline, contact: element.contact }).length === 0)
      return { alternative: { level: lower, multiple } };
  }
  return {};
}

/** Above the upper limit, so that "never" is seen and not waited for. */
const giveUpAfter = (latest: Seconds, { measuringDelay }: ElementSetting): Seconds =>
  toTenMilliseconds(1.25 * latest + measuringDelay + 0.1);

/** Why the element does not go from rest to operation here; nothing where it does. */
function whyNot(element: ElementSetting, { segments, wiring }: Timeline): string | undefined {
  const [before, fault] = segments.map(({ channels }) => isStartedBy(element, inputsOf(channels, wiring)));
  if (before) return "operates on a healthy system already, so that it cannot start from rest";
  return fault ? undefined : "is blocked at the level at which it would be timed";
}
