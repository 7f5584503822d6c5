import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, larger, smaller, toNumber } from "../base/exact.js";
import type { Seconds } from "../base/units.js";
import { written } from "../base/written.js";
import { curveSide, resetTime } from "../curve/index.js";
import { type Distance, type ElementSetting, inputsOf, lawOf, standingAt } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { faultSequence } from "../timeline/index.js";
import { aboutSource, beyondSource, cautionsOf, healthyBefore, type Posed, poseInFrontOf } from "./bench.js";
import type { Check } from "./check.js";
import { definition, expectPickup, expectTime, isInverse, isStartedBy, startOf } from "./expect.js";
import { runsAway } from "./injected.js";
import { interferers } from "./interference.js";
import { toTenMilliseconds } from "./sweep.js";

/** Long enough for the filters of a relay to settle. */
const SETTLE: Seconds = 2;

/** Also long enough for a disk to run back from full travel, since the injection before may have left it there. */
export function settleFor(setting: ElementSetting): Seconds {
  const law = lawOf(setting);
  // A thermal image is brought back by hand: nobody waits for hours.
  if (typeof law.curve === "object" && law.curve.form === "thermal") return SETTLE;
  const back = resetTime(law, curveSide(law.curve) === "over" ? 0 : Number.MAX_VALUE);
  return Math.max(SETTLE, toTenMilliseconds(back));
}

/** One injection at which an operate time is measured. */
export interface TimedPoint {
  readonly id: string;
  readonly level: number;
  /** Levels to take instead, where fewer neighbours are in the way than at the level itself. */
  readonly orElse?: readonly number[];
  /** The nearest level that is clear of the tolerance, where the level itself cannot be made or is blocked. */
  readonly nearest?: number;
}

/**
 * Where the time law is measured: an inverse curve at several multiples, since one point cannot tell two curves apart;
 * a definite time at one level clearly beyond the start.
 */
export function timedPoints(setting: ElementSetting): TimedPoint[] {
  const { curve } = setting.law;
  if (typeof curve === "object" && curve.form === "definite") return definitePoints(setting);
  const pickup = decimal(setting.pickup, "pickup");
  return definition(setting).practice.multiples.map((multiple) => ({
    id: `${setting.id}/time@${multiple}`,
    level: toNumber(pickup.times(multiple), "pickup"),
  }));
}

/** Clearly beyond the start and, for functions that are timed there too, just inside, unless that is within the tolerance. */
function definitePoints(setting: ElementSetting): TimedPoint[] {
  const { inside, nearer } = definition(setting).practice;
  const clear: TimedPoint = {
    id: `${setting.id}/time`,
    level: clearlyBeyond(setting),
    nearest: toNumber(twiceTheTolerance(setting), "pickup"),
    ...(nearer && { orElse: nearer.map((by) => beyondBy(by, setting)) }),
  };
  if (inside === undefined) return [clear];
  const level = beyondBy(inside, setting);
  const multiple = Number((level / setting.pickup).toPrecision(6));
  return isSurelyBeyond(level, setting) ? [clear, { id: `${setting.id}/time@${multiple}`, level }] : [clear];
}

/** Where a relay that is right has started, however late it starts. */
function latestStart(setting: ElementSetting): number {
  const { nominal, low = nominal, high = nominal } = expectPickup(setting).band;
  return definition(setting).side === "over" ? high : low;
}

const isSurelyBeyond = (level: number, setting: ElementSetting): boolean =>
  definition(setting).side === "over" ? level > latestStart(setting) : level < latestStart(setting);

/** As far beyond the latest start as that is beyond the start. */
const twiceTheTolerance = (setting: ElementSetting): Decimal =>
  decimal(latestStart(setting), "pickup").times(2).minus(startOf(setting));

/** Where a definite time is measured: as far beyond the start as practice says, at least twice the tolerance of the pickup. */
export function clearlyBeyond(setting: ElementSetting): number {
  const usual = beyondBy(definition(setting).practice.beyond, setting);
  const twice = twiceTheTolerance(setting);
  if (definition(setting).side === "over") return toNumber(larger(decimal(usual, "beyond"), twice), "pickup");
  // Never through zero: there, half of what the tolerance leaves.
  const furthest = twice.gt(0) ? twice : decimal(latestStart(setting), "pickup").div(2);
  return toNumber(furthest.gt(0) ? smaller(decimal(usual, "beyond"), furthest) : decimal(usual, "beyond"), "pickup");
}

function beyondBy(by: Distance, setting: ElementSetting): number {
  const { side } = definition(setting);
  const start = startOf(setting);
  const distance: Decimal = "ratio" in by ? start.times(by.ratio) : decimal(by.difference, "beyond");
  return toNumber(side === "over" ? start.plus(distance) : start.minus(distance), "pickup");
}

/** Why no time can be asked for at a level at which a relay that is right need not have started; nothing where it must. */
function withinTolerance(level: number, setting: ElementSetting): string | undefined {
  if (isSurelyBeyond(level, setting)) return undefined;
  const { side, unit } = definition(setting);
  const latest = written(latestStart(setting), unit);
  return `${written(level, unit)} is not ${side === "over" ? "above" : "below"} where ${setting.id} starts at the latest (${latest}, with its tolerance)`;
}

/** The time at the level of a point or, where elements must be blocked for that, at the level of `orElse` with the fewest to block. */
export function timeCheck(
  point: TimedPoint,
  setting: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const first = timeAt(point, setting, settings);
  if (first.kind === "none") return nearestOf(point, setting, settings) ?? first;
  if (first.check.block.length === 0) return first;
  let best = first;
  for (const level of point.orElse ?? []) {
    const other = timeAt({ id: point.id, level }, setting, settings);
    if (other.kind === "found" && other.check.block.length < best.check.block.length) best = other;
  }
  return best;
}

/** The time nearer to the start, where it can be had there at the least. */
function nearestOf({ id, nearest }: TimedPoint, setting: ElementSetting, settings: RelaySettings) {
  const nearer = nearest === undefined ? undefined : timeAt({ id, level: nearest }, setting, settings);
  return nearer?.kind === "found" ? nearer : undefined;
}

/** A healthy state, then a step to the level; the clock runs from the step. */
function timeAt(
  { id, level }: TimedPoint,
  setting: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const { unit } = definition(setting);
  const expected = expectTime(setting, level);
  if (expected.kind === "none") return expected;
  const tooNear = withinTolerance(level, setting);
  if (tooNear !== undefined) return { kind: "none", reason: tooNear };
  const posed = poseInFrontOf(setting, settings);
  if (posed.kind === "none") return posed;
  const { band, rule, numbers } = expected;
  const hold = giveUpAfter(band.high ?? 2 * band.nominal, setting);
  const tooFar = runsAway(setting, { to: level, hold }, settings);
  if (tooFar !== undefined) return { kind: "none", reason: tooFar };
  const timeline = faultSequence({
    before: healthyBefore(posed),
    fault: standingAt(posed, level),
    settleFor: settleFor(setting),
    giveUpAfter: hold,
    endsOn: { contact: setting.contact, to: "closed" },
    wiring: posed.wiring,
  });
  const reason = beyondSource(timeline, settings) ?? whyNot(setting, timeline);
  if (reason !== undefined) return { kind: "none", reason };
  const block = interferers(setting, settings.elements, { timeline, contact: setting.contact });
  const check: Check = {
    id,
    element: setting.id,
    function: setting.function,
    proves: "operate-time",
    contact: setting.contact,
    timeline,
    unit,
    level,
    ...aboutSource(setting, posed, settings),
    expect: { form: "band", unit: "s", band },
    because: { rule, numbers },
    cautions: [...cautionsOf(timeline, settings), ...ownHistory(setting)],
    block,
    ...(block.length > 0 && alternativeTo(level, setting, { posed, settings })),
  };
  return { kind: "found", check };
}

/** What the relay remembers of the injection before. */
function ownHistory({ law: { curve } }: ElementSetting): string[] {
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
  setting: ElementSetting,
  { posed, settings }: { readonly posed: Posed; readonly settings: RelaySettings },
): Pick<Check, "alternative"> {
  if (!isInverse(setting) || definition(setting).side === "under") return {};
  const pickup = decimal(setting.pickup, "pickup");
  for (const multiple of LADDER) {
    const lower = toNumber(pickup.times(multiple), "pickup");
    const expected = expectTime(setting, lower);
    if (lower >= level || expected.kind === "none" || !isSurelyBeyond(lower, setting)) continue;
    const timeline = faultSequence({
      before: healthyBefore(posed),
      fault: standingAt(posed, lower),
      settleFor: settleFor(setting),
      giveUpAfter: giveUpAfter(expected.band.high ?? 2 * expected.band.nominal, setting),
      wiring: posed.wiring,
    });
    if (interferers(setting, settings.elements, { timeline, contact: setting.contact }).length === 0)
      return { alternative: { level: lower, multiple } };
  }
  return {};
}

/** Above the upper limit, so that "never" is seen and not waited for. */
const giveUpAfter = (latest: Seconds, { measuringDelay }: ElementSetting): Seconds =>
  toTenMilliseconds(1.25 * latest + measuringDelay + 0.1);

/** Why the element does not go from rest to operation here; nothing where it does. */
function whyNot(setting: ElementSetting, { segments, wiring }: Check["timeline"]): string | undefined {
  const [before, fault] = segments.map(({ channels }) => isStartedBy(setting, inputsOf(channels, wiring)));
  if (before) return "operates on a healthy system already, so that it cannot start from rest";
  return fault ? undefined : "is blocked at the level at which it would be timed";
}
