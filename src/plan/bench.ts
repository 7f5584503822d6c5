/** What every check of an element has in common: its pose on top of a healthy system, and what the source can make. */

import type { Answer } from "../base/answer.js";
import { finite } from "../base/check.js";
import type { Channel, ChannelStates, Piece, Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { written } from "../base/written.js";
import {
  definitionOf,
  type ElementSetting,
  healthy,
  inputsOf,
  type LevelUnit,
  type Pose,
  standingAt,
} from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { type ChannelLimits, checkInput, checkSource, ramp, type SourceExceedance } from "../timeline/index.js";
import type { Check, Sweep } from "./check.js";
import { definition } from "./expect.js";

/** A pose of the element under check in front of a healthy system. */
export interface Posed extends Pose {
  readonly healthyLevel: number;
}

/** The element's own channels on top of healthy others. */
export function poseInFrontOf(setting: ElementSetting, settings: RelaySettings): Answer<Posed, string> {
  const { pose, healthyLevel, unit, read } = definition(setting);
  const posed = inFrontOfHealthy(pose(setting, settings.setup), healthyLevel(setting, settings.setup), settings);
  if (posed.kind === "none" || !waitsToBeArmed(setting)) return posed;
  // It has to see the healthy system first: a sweep may begin below what arms it.
  const before = healthyBefore(posed);
  if (read(inputsOf(before, posed.wiring), setting).arms) return { ...posed, healthy: before };
  const level = written((setting as { readonly armAbove: number }).armAbove, unit);
  return {
    kind: "none",
    reason: `waits for more than ${level}, which the healthy system from this source does not show it`,
  };
}

/** Whether a function does nothing before it has seen a level. */
export const waitsToBeArmed = (setting: ElementSetting): boolean =>
  "armAbove" in setting && setting.armAbove !== undefined;

/** The channels of a pose on top of healthy others. */
export function inFrontOfHealthy(
  posed: Answer<Pose, string>,
  healthyLevel: number,
  { setup }: RelaySettings,
): Answer<Posed, string> {
  if (posed.kind === "none") return posed;
  const rest = healthy(setup);
  return {
    kind: "found",
    base: { ...rest.states, ...posed.base },
    lever: posed.lever,
    wiring: { ...rest.wiring, ...posed.wiring },
    healthyLevel,
    ...(posed.note !== undefined && { note: posed.note }),
    ...(posed.statesAt && { statesAt: posed.statesAt }),
    ...(posed.healthy && { healthy: { ...rest.states, ...posed.healthy } }),
  };
}

/** The channel states of the healthy system in front of an injection. */
export const healthyBefore = (posed: Posed): ChannelStates => posed.healthy ?? standingAt(posed, posed.healthyLevel);

/** Long enough for a relay to know the voltages from before the fault. */
const PRE_FAULT: Seconds = 2;

/** How long a sweep begins with the healthy system: a relay may take its direction from there. */
export const preFaultOf = ({ healthy }: Posed): Pick<Sweep, "preFault"> =>
  healthy === undefined ? {} : { preFault: PRE_FAULT };

/** The sequence in which a level moves through pieces, from the healthy system where that is no level. */
export function movedThrough(pieces: readonly Piece[], posed: Posed): Timeline {
  const { wiring, segments } = levelsThrough(pieces, posed);
  if (posed.healthy === undefined) return { wiring, segments };
  return { wiring, segments: [{ name: "pre-fault", duration: PRE_FAULT, channels: posed.healthy }, ...segments] };
}

/** Where no lever leads to a level, each piece stands still at its own. */
function levelsThrough(pieces: readonly Piece[], posed: Posed): Timeline {
  const { base, lever, wiring, statesAt } = posed;
  if (statesAt === undefined) return ramp({ base, lever, pieces, wiring });
  const segments = pieces.flatMap(
    (piece) => ramp({ base: standingAt(posed, piece.from), lever: {}, pieces: [piece], wiring }).segments,
  );
  return { wiring, segments };
}

/** What a check says about its injection: what the channels stand for, and what a level is on the primary side. */
export function aboutSource(
  setting: ElementSetting,
  { note }: Posed,
  { toPrimary, toPrimaryOfSecond: second }: RelaySettings,
  unit?: LevelUnit,
): Pick<Check, "injection" | "toPrimary" | "toPrimaryOfSecond"> {
  // What is not counted as the setting is, such as an angle, is not transformed as the setting is.
  const isAsSet = unit === undefined || unit === definitionOf(setting.function).unit;
  const factor = isAsSet ? toPrimary[setting.id] : undefined;
  return {
    ...(note !== undefined && { injection: note }),
    ...(factor !== undefined && { toPrimary: finite(factor, `toPrimary.${setting.id}`, "a ratio") }),
    ...(setting.watches === "differential" &&
      second !== undefined && { toPrimaryOfSecond: finite(second, "toPrimaryOfSecond", "a ratio") }),
  };
}

/** The largest rms value that a timeline asks of a channel of a quantity. */
export function largest({ segments, wiring }: Timeline, quantity: "current" | "voltage"): number {
  const values = segments.flatMap(({ channels }) =>
    Object.entries(channels).map(([name, { rms }]) => (wiring[name]?.quantity === quantity ? rms : 0)),
  );
  return Math.max(0, ...values);
}

/** Where a timeline exceeds the limits; where no limit is given nothing is checked. */
function exceedancesOf(
  timeline: Timeline,
  { current = {}, voltage = {} }: { readonly [Q in Channel["quantity"]]: ChannelLimits | undefined },
): SourceExceedance[] {
  const isLimited = [current, voltage].some((limits) => Object.keys(limits).length > 0);
  return isLimited ? [...checkSource(timeline, { current, voltage }).exceedances] : [];
}

const withoutDuty = ({ duty: _, ...limits }: ChannelLimits = {}): ChannelLimits => limits;
const dutyAlone = ({ duty }: ChannelLimits = {}): ChannelLimits => (duty === undefined ? {} : { duty });

/**
 * Why the source cannot make a timeline; nothing where it can. A duty is no reason: a state is mostly over before its full
 * duration, because the relay operates.
 */
export function beyondSource(timeline: Timeline, settings: RelaySettings): string | undefined {
  const { current, voltage } = settings.sourceLimits;
  const [worst] = exceedancesOf(timeline, { current: withoutDuty(current), voltage: withoutDuty(voltage) }).sort(
    (a, b) => beyondBy(b) - beyondBy(a),
  );
  if (worst === undefined) return undefined;
  const [needed, most] = [worst.amount, worst.allowed].map((x) => written(shown(x), worst.unit)) as [string, string];
  const where = `on channel ${worst.channel}`;
  switch (worst.limit) {
    case "rms":
      return `needs ${needed} on one channel, the source makes at most ${most}`;
    case "power":
      return `puts ${needed} into the burden ${where}, the source gives at most ${most}`;
    case "compliance":
      return `needs ${needed} across the burden ${where}, the source drives at most ${most}`;
    default:
      return `needs ${needed} ${where}, beyond the ${most} of the source`;
  }
}

const beyondBy = ({ amount, allowed }: SourceExceedance): number => Math.abs(amount - allowed) / allowed;

const SUSTAINED = 4;

/** Whether a current is more than an input usually carries for long; what the input really stands is not on the sheet. */
export const heats = (current: number, { setup: { ratedCurrent } }: RelaySettings): boolean =>
  ratedCurrent !== undefined && current > SUSTAINED * ratedCurrent;

/** What to mind in one check. */
export function cautionsOf(timeline: Timeline, settings: RelaySettings): string[] {
  const { exceedances, notChecked } = checkInput(timeline, settings.inputRatings);
  const tooMuch = exceedances.map(
    ({ rating, input, at, amount, allowed, unit }) =>
      `Beyond the ${rating} rating of input ${input} after ${shown(at)} s: ${shown(amount)} of ${shown(allowed)} ${unit}. Do not inject it as it is.`,
  );
  // A voltage is there for as long as it takes: its continuous rating is the one that counts.
  const unknown = (input: string) =>
    notChecked.some((one) => one.startsWith(input.startsWith("v") ? `${input} continuous` : `${input} `));
  const fed = Object.values(timeline.wiring);
  const isUnknown = (quantity: "current" | "voltage") =>
    fed.some(({ quantity: own, feeds }) => own === quantity && Object.keys(feeds).some(unknown));
  return [...tooMuch, ...tooLong(timeline, settings), ...unchecked(timeline, settings, isUnknown)];
}

/** What the source holds only for a time. */
function tooLong(timeline: Timeline, { sourceLimits: { current, voltage } }: RelaySettings): string[] {
  return exceedancesOf(timeline, { current: dutyAlone(current), voltage: dutyAlone(voltage) }).map(
    ({ channel, above, amount, allowed, unit }) =>
      `Up to ${shown(amount)} s above ${shown(above as number)} ${timeline.wiring[channel]?.quantity === "voltage" ? "V" : "A"} on channel ${channel}, the source holds it for ${shown(allowed)} ${unit}: let it rest, and do not wait longer than that for the relay.`,
  );
}

/** Of rated voltage: inputs usually stand a little more for ever, and no default is known. */
const HIGH = 1.2;

/** The largest rms value that one channel puts on an input to neutral. */
function largestToNeutral({ segments, wiring }: Timeline): number {
  const shares = (name: string) =>
    ["va", "vb", "vc"].map((input) => Math.abs(wiring[name]?.feeds[input] ?? 0)).reduce((a, b) => Math.max(a, b));
  const values = segments.flatMap(({ channels }) =>
    Object.entries(channels).map(([name, { rms }]) => rms * shares(name)),
  );
  return Math.max(0, ...values);
}

/** High levels on inputs whose ratings nobody gave. */
function unchecked(
  timeline: Timeline,
  settings: RelaySettings,
  isUnknown: (quantity: "current" | "voltage") => boolean,
): string[] {
  const current = largest(timeline, "current");
  const voltage = largest(timeline, "voltage");
  const { setup } = settings;
  const toNeutral = largestToNeutral(timeline);
  return [
    ...(heats(current, settings) && isUnknown("current")
      ? [
          `${shown(current)} A is ${shown(current / (setup.ratedCurrent as number))} × rated; the thermal rating of the input is not on the sheet and was not checked.`,
        ]
      : []),
    ...(setup.ratedVoltage !== undefined &&
    (voltage > HIGH * setup.ratedVoltage || toNeutral > (HIGH * setup.ratedVoltage) / Math.sqrt(3)) &&
    isUnknown("voltage")
      ? [
          `${shown(voltage)} V on one channel; the continuous rating of the input is not on the sheet and was not checked.`,
        ]
      : []),
  ];
}

const shown = (x: number): string => String(Number(x.toPrecision(4)));
