import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import type { Seconds } from "../base/units.js";
import { curveSide, resetTime } from "../curve/index.js";
import { type ElementSetting, inputsOf, lawOf } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { atLevel, faultSequence } from "../timeline/index.js";
import { aboutSource, beyondSource, cautionsOf, type Posed, poseInFrontOf } from "./bench.js";
import type { Check } from "./check.js";
import { definition, expectTime, isInverse, isStartedBy, startOf } from "./expect.js";
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
}

/**
 * Where the time law is measured: an inverse curve at several multiples, since one point cannot tell two curves apart;
 * a definite time at one level clearly beyond the start.
 */
export function timedPoints(setting: ElementSetting): TimedPoint[] {
  const { curve } = setting.law;
  if (typeof curve === "object" && curve.form === "definite") {
    return [{ id: `${setting.id}/time`, level: clearlyBeyond(setting) }];
  }
  const pickup = decimal(setting.pickup, "pickup");
  return definition(setting).practice.multiples.map((multiple) => ({
    id: `${setting.id}/time@${multiple}`,
    level: toNumber(pickup.times(multiple), "pickup"),
  }));
}

function clearlyBeyond(setting: ElementSetting): number {
  const { practice, side } = definition(setting);
  const start = startOf(setting);
  const distance: Decimal =
    "ratio" in practice.beyond ? start.times(practice.beyond.ratio) : decimal(practice.beyond.difference, "beyond");
  return toNumber(side === "over" ? start.plus(distance) : start.minus(distance), "pickup");
}

/** A healthy state, then a step to the level; the clock runs from the step. */
export function timeCheck(
  { id, level }: TimedPoint,
  setting: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const { unit } = definition(setting);
  const expected = expectTime(setting, level);
  if (expected.kind === "none") return expected;
  const posed = poseInFrontOf(setting, settings);
  if (posed.kind === "none") return posed;
  const { base, lever, wiring, healthyLevel } = posed;
  const { band, rule, numbers } = expected;
  const hold = giveUpAfter(band.high ?? 2 * band.nominal, setting);
  const tooFar = runsAway(setting, { to: level, hold }, settings);
  if (tooFar !== undefined) return { kind: "none", reason: tooFar };
  const timeline = faultSequence({
    before: atLevel(base, { lever, level: healthyLevel }),
    fault: atLevel(base, { lever, level }),
    settleFor: settleFor(setting),
    giveUpAfter: hold,
    endsOn: { contact: setting.contact, to: "closed" },
    wiring,
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
  const { base, lever, wiring, healthyLevel } = posed;
  for (const multiple of LADDER) {
    const lower = toNumber(pickup.times(multiple), "pickup");
    const expected = expectTime(setting, lower);
    if (lower >= level || expected.kind === "none") continue;
    const timeline = faultSequence({
      before: atLevel(base, { lever, level: healthyLevel }),
      fault: atLevel(base, { lever, level: lower }),
      settleFor: settleFor(setting),
      giveUpAfter: giveUpAfter(expected.band.high ?? 2 * expected.band.nominal, setting),
      wiring,
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
