import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import type { Seconds } from "../base/units.js";
import { curveSide, resetTime } from "../curve/index.js";
import { type ElementSetting, inputsOf, operateTimeOf } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { atLevel, faultSequence } from "../timeline/index.js";
import { beyondSource, cautionsOf, poseInFrontOf } from "./bench.js";
import type { Check } from "./check.js";
import { definition, expectTime, startOf } from "./expect.js";
import { interferers } from "./interference.js";
import { toTenMilliseconds } from "./pickup-check.js";

/** Long enough for the filters of a relay to settle. */
const SETTLE: Seconds = 2;

/** Also long enough for a disk to run back from full travel, since the injection before may have left it there. */
function settleFor({ law }: ElementSetting): Seconds {
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
  if (level < 0) return { kind: "none", reason: `needs a level of ${level} ${unit}` };
  const { base, lever, wiring, healthyLevel } = posed;
  const { band, rule, numbers } = expected;
  const timeline = faultSequence({
    before: atLevel(base, { lever, level: healthyLevel }),
    fault: atLevel(base, { lever, level }),
    settleFor: settleFor(setting),
    giveUpAfter: giveUpAfter(band.high ?? 2 * band.nominal, setting),
    endsOn: { contact: setting.contact, to: "closed" },
    wiring,
  });
  const reason = beyondSource(timeline, settings) ?? whyNot(setting, timeline);
  if (reason !== undefined) return { kind: "none", reason };
  const check: Check = {
    id,
    element: setting.id,
    function: setting.function,
    proves: "operate-time",
    contact: setting.contact,
    timeline,
    unit,
    level,
    expect: { form: "band", unit: "s", band },
    because: { rule, numbers },
    cautions: cautionsOf(timeline, settings),
    block: interferers(setting, settings.elements, { timeline, contact: setting.contact }),
  };
  return { kind: "found", check };
}

/** Above the upper limit, so that "never" is seen and not waited for. */
const giveUpAfter = (latest: Seconds, { measuringDelay }: ElementSetting): Seconds =>
  toTenMilliseconds(1.25 * latest + measuringDelay + 0.1);

/** Why the element does not go from rest to operation here; nothing where it does. */
function whyNot(setting: ElementSetting, { segments, wiring }: Check["timeline"]): string | undefined {
  const [before, fault] = segments.map(({ channels }) => operateTimeOf(setting, inputsOf(channels, wiring)));
  if (Number.isFinite(before)) return "operates on a healthy system already, so that it cannot start from rest";
  return Number.isFinite(fault) ? undefined : "is blocked at the level at which it would be timed";
}
