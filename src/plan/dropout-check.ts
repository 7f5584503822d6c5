import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, larger, smaller } from "../base/exact.js";
import { written } from "../base/written.js";
import type { ElementSetting } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { beyondSource } from "./beyond-source.js";
import type { Check } from "./check.js";
import { checkOf } from "./check-of.js";
import { expectDropout, toleranceOfStart } from "./expect.js";
import { seenAt, startContactCaution, watchedContact, whyNotSwept } from "./injected.js";
import { movedThrough, poseInFrontOf, preFaultOf } from "./posed.js";
import { definition, isStartedBy } from "./started.js";
import { asPlanned, MOST_STEPS, movementThrough, piecesOf, startShows, sweepBetween, whyUnheld } from "./sweep.js";

/**
 * From where the function has surely started back through its dropout, in the same kind of steps as for the pickup; each
 * is held longer than the function takes to let go.
 */
export function dropoutCheck(element: ElementSetting, settings: RelaySettings): Answer<{ check: Check }, string> {
  const { unit, side, practice } = definition(element);
  if (practice.fromRest)
    return { kind: "none", reason: "a rate of change is held from rest, and cannot be brought back step by step" };
  const notSwept = whyNotSwept(element);
  if (notSwept !== undefined) return { kind: "none", reason: notSwept };
  const expected = expectDropout(element);
  if (expected.kind === "none") return expected;
  const posed = poseInFrontOf(element, settings);
  if (posed.kind === "none") return posed;
  const { band, rule, numbers } = expected;
  const unheld = whyUnheld(band);
  if (unheld !== undefined) return { kind: "none", reason: unheld };
  const { half, step, hold } = movementThrough(band, { operateDelay: element.measuringDelay });
  const nominal = decimal(band.nominal, "dropout");
  const begin = surelyStarted(element);
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
  const settle = 2 * movementThrough(band, startShows(element)).hold;
  const timeline = movedThrough(piecesOf(sweep, settle), posed);
  const tooMuch = beyondSource(timeline, settings);
  if (tooMuch !== undefined) return { kind: "none", reason: tooMuch };
  if (!isStartedBy(element, seenAt(sweep.from, posed)))
    return { kind: "none", reason: `is blocked at ${written(sweep.from, unit)}, where it would have to be started` };
  const proof = {
    name: "dropout",
    proves: "dropout",
    contact: watchedContact(element),
    timeline,
    unit,
    sweep: asPlanned(sweep),
    posed,
    expect: { form: "band", unit, band },
    because: { rule, numbers },
    cautions: startContactCaution(element),
  } as const;
  return { kind: "found", check: checkOf(proof, element, settings) };
}

/** Twice the pickup tolerance beyond the start. */
function surelyStarted(element: ElementSetting): Decimal {
  const { nominal, low = nominal, high = nominal } = toleranceOfStart(element);
  const start = decimal(nominal, "pickup");
  const half = larger(decimal(high, "pickup").minus(start), start.minus(decimal(low, "pickup")));
  return definition(element).side === "over"
    ? start.plus(half.times(2))
    : larger(start.minus(half.times(2)), smaller(start, decimal(0, "")));
}
