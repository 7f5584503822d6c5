import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import { type ChannelStates, eachChannel } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { plain } from "../base/written.js";
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
import { saysSomethingAt } from "./nominal-time.js";
import { healthyBefore, inFrontOfHealthy, type Posed, poseInFrontOf } from "./posed.js";
import { sourceErrors } from "./source-error.js";
import { definition, isInverse } from "./started.js";
import { movementThrough, startShows, toTenMilliseconds } from "./sweep.js";
import { settleFor } from "./time-check.js";
import { clearlyBeyond } from "./timed-points.js";

/** Nobody waits longer than this for nothing to happen; a shorter hold would show nothing. */
const LONGEST: Seconds = 120;

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
  const slowest = slowestAt(element, level);
  if (slowest.kind === "none") return slowest;
  const { held } = slowest;
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
  const hold =
    slowest.kind === "none" ? slowest : holdFor(1.1 * (slowest.band.high ?? 2 * slowest.band.nominal), element);
  if (hold.kind === "none" && element.startContact === undefined) return hold;
  const { held } = hold.kind === "none" ? startShown(element) : hold;
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
  eachChannel(channels, ({ harmonics: _, ...state }) => state);

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
function slowestAt(element: ElementSetting, level: number): Answer<Hold, string> {
  const { startContact, law, accuracy, pickup } = element;
  if (startContact !== undefined) return { kind: "found", ...startShown(element) };
  const delay = definiteTimeOf(law);
  if (delay !== undefined) {
    const { nominal, high = nominal } = band(delay, accuracy.time);
    return holdFor(1.1 * high, element);
  }
  const start = startLevel(element);
  const mirrored = (start * start) / level / pickup;
  if (!saysSomethingAt(law, mirrored))
    return {
      kind: "none",
      reason: `its curve has no time at ${plain(mirrored, 6)} × the setting, where the slowest operation would show; a start contact would show it`,
    };
  return holdFor(operateTime(lawOf(element), mirrored), element);
}

interface Hold {
  readonly held: Seconds;
}

/** In times of its measuring delay, what a relay needs beyond its time. */
const RESPONSES = 4;

const startShown = ({ measuringDelay }: ElementSetting): Hold => ({
  held: toTenMilliseconds(Math.max(1, RESPONSES * measuringDelay)),
});

/** A delay is set, and who set it waits for it; the time of a curve near its start may be any. */
function holdFor(time: Seconds, element: ElementSetting): Answer<Hold, string> {
  const held = toTenMilliseconds(time + RESPONSES * element.measuringDelay);
  if (held <= LONGEST || !isInverse(element)) return { kind: "found", held };
  const reason = `on ${element.contact} nothing is proved before the slowest operation is over, after ${plain(held, 4)} s; nobody waits for more than ${LONGEST} s`;
  return { kind: "none", reason };
}
