import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, larger, smaller } from "../base/exact.js";
import { written } from "../base/written.js";
import type { ElementSetting } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { aboutSource, beyondSource, cautionsOf, movedThrough, poseInFrontOf, preFaultOf } from "./bench.js";
import type { Check } from "./check.js";
import { definition, expectDropout, expectPickup, isStartedBy } from "./expect.js";
import { ownTrip, seenAt, watchedContact, whyNotSwept } from "./injected.js";
import { interferers } from "./interference.js";
import { asPlanned, MOST_STEPS, movementThrough, piecesOf, startShows, sweepBetween } from "./sweep.js";

/**
 * From where the function has surely started back through its dropout, in the same kind of steps as for the pickup; each
 * is held longer than the function takes to let go.
 */
export function dropoutCheck(setting: ElementSetting, settings: RelaySettings): Answer<{ check: Check }, string> {
  const { unit, side, practice } = definition(setting);
  if (practice.fromRest)
    return { kind: "none", reason: "a rate of change is held from rest, and cannot be brought back step by step" };
  const notSwept = whyNotSwept(setting);
  if (notSwept !== undefined) return { kind: "none", reason: notSwept };
  const expected = expectDropout(setting);
  if (expected.kind === "none") return expected;
  const posed = poseInFrontOf(setting, settings);
  if (posed.kind === "none") return posed;
  const { band, rule, numbers } = expected;
  const { half, step, hold } = movementThrough(band, { operateDelay: setting.measuringDelay });
  const nominal = decimal(band.nominal, "dropout");
  const begin = surelyStarted(setting);
  const outwards = side === "over" ? begin.minus(nominal) : nominal.minus(begin);
  // On the grid of the dropout, so that the declared level is one of the levels.
  const most = side === "over" ? outwards.div(step).ceil() : nominal.div(step).floor();
  const [above, below] = [smaller(outwards.div(step).ceil(), most), half.times(2).div(step).ceil()];
  if (above.plus(below).gt(2 * MOST_STEPS))
    return {
      kind: "none",
      reason: `a tolerance of ${written(half.toString(), unit)} asks for more than ${2 * MOST_STEPS} steps of ${written(step.toString(), unit)}`,
    };
  const sign = side === "over" ? 1 : -1;
  const from = nominal.plus(step.times(above).times(sign));
  const to = larger(nominal.minus(step.times(below).times(sign)), decimal(0, ""));
  const sweep = sweepBetween({ from, to, step }, { hold, ...preFaultOf(posed) });
  const settle = 2 * movementThrough(band, startShows(setting)).hold;
  const timeline = movedThrough(piecesOf(sweep, settle), posed);
  const tooMuch = beyondSource(timeline, settings);
  if (tooMuch !== undefined) return { kind: "none", reason: tooMuch };
  if (!isStartedBy(setting, seenAt(sweep.from, posed)))
    return { kind: "none", reason: `is blocked at ${written(sweep.from, unit)}, where it would have to be started` };
  const contact = watchedContact(setting);
  const check: Check = {
    id: `${setting.id}/dropout`,
    element: setting.id,
    function: setting.function,
    proves: "dropout",
    contact,
    timeline,
    unit,
    sweep: asPlanned(sweep),
    ...aboutSource(setting, posed, settings),
    expect: { form: "band", unit, band },
    because: { rule, numbers },
    cautions: [...cautionsOf(timeline, settings), ...ownTrip(setting)],
    block: interferers(setting, settings.elements, { timeline, contact }),
  };
  return { kind: "found", check };
}

/** Twice the pickup tolerance beyond the start. */
function surelyStarted(setting: ElementSetting): Decimal {
  const { nominal, low = nominal, high = nominal } = expectPickup(setting).band;
  const start = decimal(nominal, "pickup");
  const half = larger(decimal(high, "pickup").minus(start), start.minus(decimal(low, "pickup")));
  return definition(setting).side === "over"
    ? start.plus(half.times(2))
    : larger(start.minus(half.times(2)), smaller(start, decimal(0, "")));
}
