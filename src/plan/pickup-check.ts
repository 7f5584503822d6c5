import type { Answer } from "../base/answer.js";
import { toNumber } from "../base/exact.js";
import type { ChannelStates, Wiring } from "../base/sequence.js";
import { written } from "../base/written.js";
import { type ElementSetting, inputsOf } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { atLevel, ramp } from "../timeline/index.js";
import { aboutSource, beyondSource, cautionsOf, heats, type Posed, poseInFrontOf } from "./bench.js";
import type { Check } from "./check.js";
import { definition, expectPickup, isInverse, isStartedBy, startOf } from "./expect.js";
import { interferers } from "./interference.js";
import {
  asPlanned,
  MOST_STEPS,
  movementThrough,
  type PlannedSweep,
  piecesOf,
  REST,
  startShows,
  stepsAround,
  sweepBetween,
} from "./sweep.js";

/**
 * A sweep from where the function is quiet through its start: steps no wider than a fifth of the tolerance, each held
 * longer than the function takes to respond.
 */
export function pickupCheck(setting: ElementSetting, settings: RelaySettings): Answer<{ check: Check }, string> {
  const notSwept = whyNotSwept(setting);
  if (notSwept !== undefined) return { kind: "none", reason: notSwept };
  const posed = poseInFrontOf(setting, settings);
  if (posed.kind === "none") return posed;
  const swept = sweepOf(setting, posed, settings);
  if (swept.kind === "none") return swept;
  const { sweep } = swept;
  const { base, lever, wiring } = posed;
  const { unit, band, rule, numbers } = expectPickup(setting);
  const tooFar = runsAway(setting, sweep, settings);
  if (tooFar !== undefined) return { kind: "none", reason: tooFar };
  const timeline = ramp({ base, lever, pieces: piecesOf(sweep), wiring });
  const tooMuch = beyondSource(timeline, settings);
  if (tooMuch !== undefined) return { kind: "none", reason: tooMuch };
  const startsAt = (level: number) => isStartedBy(setting, seenAt(level, posed));
  if (startsAt(sweep.from))
    return {
      kind: "none",
      reason: `already operates at ${written(sweep.from, unit)}, where the sweep would have to begin`,
    };
  if (!startsAt(sweep.to))
    return { kind: "none", reason: `is blocked at ${written(sweep.to, unit)}, where the sweep would have to end` };
  const contact = watchedContact(setting);
  const check: Check = {
    id: `${setting.id}/pickup`,
    element: setting.id,
    function: setting.function,
    proves: "pickup",
    contact,
    timeline,
    unit: definition(setting).unit,
    sweep: asPlanned(sweep),
    ...aboutSource(setting, posed, settings),
    expect: { form: "band", unit, band },
    because: { rule, numbers },
    cautions: [...cautionsOf(timeline, settings), ...ownTrip(setting)],
    block: interferers(setting, settings.elements, { timeline, contact }),
  };
  return { kind: "found", check };
}

/** Where a function shows its start: on the start contact where it has one. */
export const watchedContact = ({ startContact, contact }: ElementSetting): string => startContact ?? contact;

/** Why no sweep can show where the function starts or lets go; nothing where one can. */
export function whyNotSwept(setting: ElementSetting): string | undefined {
  return setting.startContact === undefined && isInverse(setting)
    ? "near the setting an inverse time grows without bound, so its trip contact cannot show the pickup; name a start contact, or fit the pickup to timed injections"
    : undefined;
}

/** What stands on the relay's inputs at a level. */
export function seenAt(level: number, { base, lever, wiring }: Posed): ReturnType<typeof inputsOf> {
  const channels: ChannelStates = atLevel(base, { lever, level });
  return inputsOf(channels, wiring as Wiring);
}

/** What to mind where the start contact is watched. */
export const ownTrip = ({ startContact, contact }: ElementSetting): string[] =>
  startContact === undefined ? [] : [`The start contact is watched; contact ${contact} may operate meanwhile.`];

/** A rate of change that is held carries the frequency away; a fifth of it is as far as anybody goes. */
export function runsAway(
  setting: ElementSetting,
  { to, hold }: { readonly to: number; readonly hold: number },
  { setup: { frequency } }: RelaySettings,
): string | undefined {
  if (definition(setting).unit !== "Hz/s") return undefined;
  const away = to * hold;
  return away <= 0.2 * frequency
    ? undefined
    : `would carry the frequency ${Number(away.toPrecision(3))} Hz away from ${frequency} Hz`;
}

/** The sweep in exact decimals, so that the setting itself is one of its levels. */
function sweepOf(
  setting: ElementSetting,
  { healthyLevel }: Posed,
  settings: RelaySettings,
): Answer<{ sweep: PlannedSweep }, string> {
  const { side, unit, practice } = definition(setting);
  const start = startOf(setting);
  const movement = movementThrough(expectPickup(setting).band, startShows(setting));
  const { half, step, hold } = movement;
  const steps = stepsAround(setting, start, movement);
  if (steps.gt(MOST_STEPS)) {
    return {
      kind: "none",
      reason: `a tolerance of ${written(half.toString(), unit)} asks for steps of ${written(step.toString(), unit)}, more than ${2 * MOST_STEPS} of them`,
    };
  }
  const [below, above] = [start.minus(step.times(steps)), start.plus(step.times(steps))];
  const [from, to] = side === "over" ? [below, above] : [above, below];
  const rests = practice.fromRest || (unit === "A" && heats(toNumber(to, "pickup"), settings));
  const rest = rests ? { rest: { level: healthyLevel, time: REST } } : {};
  return { kind: "found", sweep: sweepBetween({ from, to, step }, { hold, ...rest }) };
}
