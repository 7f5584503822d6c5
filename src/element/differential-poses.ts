/** How a restrained differential function is put at a place with the source at hand. */
import type { Answer } from "../base/answer.js";
import { eachChannel } from "../base/sequence.js";
import { plain } from "../base/written.js";
import { differentialCurrents } from "../characteristic/index.js";
import { bothSides, inSeries, leverFor, sideAlone, statesFor, zeroSequenceOf } from "./both-sides.js";
import type { Pose } from "./definition.js";
import { regionOf, restraintAlone, startsAlone } from "./differential-region.js";
import type { Zone } from "./differential-setting.js";
import type { SideName } from "./differential-zone.js";
import { byRms, turnedOff } from "./poses.js";
import type { DifferentialSetting } from "./setting.js";
import type { Setup } from "./setup.js";

const none = (reason: string) => ({ kind: "none", reason }) as const;

/** The first side alone; the level is the differential current, or less where its own restraint raises the start. */
export const fromFirst = (setting: DifferentialSetting, setup: Setup): Answer<Pose, string> =>
  fromOneSide("first", setting, setup);

/** The same of either side. */
export function fromOneSide(side: SideName, setting: DifferentialSetting, setup: Setup): Answer<Pose, string> {
  const starts = startsAlone(setting);
  if (starts === undefined)
    return { kind: "none", reason: "one side alone never operates it: the slope outweighs its differential current" };
  const bend = regionOf(setting).points.find(({ x }) => x > 0 && x < starts * restraintAlone(setting));
  // Behind a bend the start no longer moves as the setting does: a tolerance of the one would be none of the other.
  if (starts > setting.pickup && bend !== undefined)
    return none(
      `a slope begins at a restraint of ${plain(bend.x, 4)} A, before one side alone starts it: the setting shows on the line, not there`,
    );
  const { bench, counts, note } = sideAlone(side, setting.zone, setup);
  const perLevel = starts / setting.pickup / counts;
  return byRms(turnedOff(bench), perLevel, `${note}${raisedTo(starts, setting)}`);
}

const raisedTo = (starts: number, { pickup }: DifferentialSetting): string =>
  starts > pickup ? `; its own restraint raises the start to ${plain(starts, 4)} A` : "";

/** A second harmonic beside the first side alone; its size in A of what is compared stays, whatever the level. */
export function withSecondHarmonic(rms: number, setting: DifferentialSetting, setup: Setup): Answer<Pose, string> {
  const pose = fromFirst(setting, setup);
  if (pose.kind === "none") return pose;
  const { counts } = sideAlone("first", setting.zone, setup);
  const base = eachChannel(pose.base, (state) => ({
    ...state,
    // In three phases it is turned as the phases are, twice as far: it is no zero sequence.
    harmonics: [{ order: 2, rms: rms / counts, angle: 2 * (state.angle ?? 0) }],
  }));
  const angles = setup.currentChannels === 3 ? ", at twice the angle of its phase" : "";
  return { ...pose, base, note: `${pose.note}; with a second harmonic${angles}` };
}

/** The differential current is the level, at a restraint that stays; it has room up to `most`. */
export function atRestraint(
  x: number,
  most: number,
  { zone, restraint }: DifferentialSetting,
  setup: Setup,
): Answer<Pose, string> {
  const both = bothSides(zone, setup);
  if (typeof both === "string") return none(both);
  const [through, end] = [0, most].map((y) => differentialCurrents({ x, y }, restraint));
  if (through?.kind !== "found" || end?.kind !== "found")
    return none(`a sweep at a restraint of ${x} A would go beyond what one side alone makes of it`);
  const first = (end.first - through.first) / most;
  const second = (through.second - end.second) / most;
  return {
    kind: "found",
    base: statesFor(both, { first: through.first, second: -through.second }, setup),
    lever: leverFor(both, { first, second }),
    wiring: both.wiring,
    note: `differential current at a restraint of ${x} A: ${both.note}`,
  };
}

/** A current that passes through the zone; the level is its size on the first side. */
export function through(zone: Zone, setup: Setup): Answer<Pose, string> {
  const hasOne = setup.currentChannels === 1 && setup.secondCurrentChannels === undefined;
  const both = hasOne ? inSeries(zone) : bothSides(zone, setup);
  if (typeof both === "string") return none(both);
  const lever = leverFor(both, { first: 1, second: 1 });
  return {
    kind: "found",
    base: statesFor(both, { first: 0, second: 0 }, setup),
    lever,
    wiring: both.wiring,
    note: both.note,
  };
}

/** Zero sequence of one side that keeps it; the level is the differential current, as where the first side alone starts it. */
export function zeroSequenceAlone(side: SideName, setting: DifferentialSetting, setup: Setup): Answer<Pose, string> {
  const { zone, pickup } = setting;
  const alone = fromFirst(setting, setup);
  if (alone.kind === "none") return alone;
  const pose = zeroSequence(side, zone, setup);
  const starts = startsAlone(setting) ?? pickup;
  return {
    ...pose,
    lever: eachChannel(pose.lever, ({ rms = 0 }) => ({ rms: (rms * starts) / pickup })),
    note: `${pose.note}, all of which counts${raisedTo(starts, setting)}`,
  };
}

/** Zero sequence of one side; the level is the current in each phase, in A of the first side. */
export function zeroSequence(side: SideName, zone: Zone, setup: Setup) {
  const { states, wiring, perAmpere } = zeroSequenceOf(side, zone, setup);
  return byRms({ states, wiring }, perAmpere, `the ${side} side alone, the same current in all three phases`);
}
