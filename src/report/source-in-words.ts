/** What a person sets on the channels of the source, which is not always the quantity that the function watches. */
import { signedAngle } from "../base/degrees.js";
import type { ChannelState, Segment, Timeline } from "../base/sequence.js";
import { clockState, sweepStates } from "../base/states.js";
import type { Degrees, Seconds } from "../base/units.js";
import { plain, written } from "../base/written.js";
import type { Check } from "../plan/index.js";

interface Group {
  readonly names: readonly string[];
  readonly from: readonly Degrees[];
  readonly to: readonly Degrees[];
}

/** `ia, ib, ic 12 A at 0, -120, 120°; va, vb, vc 63.51 V at 0, -120, 120°; all 50 Hz`. */
export const onTheSource = (check: Check): string => putOut(endsOf(check), check.timeline);

/** What the channels put out from one state to another; nothing where they put out nothing. */
function putOut([first, last]: readonly [Segment, Segment], { wiring }: Timeline): string {
  const groups = new Map<string, Group>();
  const frequencies = new Map<string, string[]>();
  for (const [name, from] of Object.entries(first.channels)) {
    const to = last.channels[name] ?? from;
    if (from.rms === 0 && to.rms === 0 && from.harmonics === undefined) continue;
    const unit = wiring[name]?.quantity === "voltage" ? "V" : "A";
    const size = `${written(moved(from.rms, to.rms), unit)}${harmonicsInWords(from, unit)}`;
    const { names, from: begin, to: end } = groups.get(size) ?? { names: [], from: [], to: [] };
    groups.set(size, {
      names: [...names, name],
      from: [...begin, from.angle ?? 0],
      to: [...end, to.angle ?? 0],
    });
    const frequency = frequencyInWords(from, to);
    frequencies.set(frequency, [...(frequencies.get(frequency) ?? []), name]);
  }
  // The angle of a channel that is alone says nothing.
  const isAlone = [...groups.values()].flatMap(({ names }) => names).length === 1;
  const sizes = [...groups].map(
    ([size, group]) => `${group.names.join(", ")} ${size}${isAlone ? "" : anglesInWords(group)}`,
  );
  // Of one frequency alone it need not be said which channel has it.
  const named = [...frequencies].map(([frequency, names]) =>
    frequencies.size === 1 ? frequency : `${names.join(", ")} ${frequency}`,
  );
  return [...sizes, ...named].join("; ");
}

/**
 * `first side 311.4 A; second side 745.8 A`: what the channels of each side of a differential zone are on the primary side of its
 * own current transformers, where the second side is fed.
 */
export function sidesOnPrimary(check: Check): string[] {
  const { toPrimary, toPrimaryOfSecond, timeline } = check;
  if (toPrimary === undefined || toPrimaryOfSecond === undefined) return [];
  const [first, last] = endsOf(check);
  const sizesOf = (isSecond: boolean, ratio: number): string => {
    const fed = Object.entries(first.channels).filter(([name, from]) => {
      const { quantity, feeds = {} } = timeline.wiring[name] ?? {};
      const isOn = from.rms > 0 || (last.channels[name]?.rms ?? 0) > 0;
      return isOn && quantity === "current" && Object.keys(feeds).some((input) => input.endsWith(SECOND) === isSecond);
    });
    const sizes = fed.map(([name, from]) => moved(from.rms * ratio, (last.channels[name] ?? from).rms * ratio));
    return [...new Set(sizes)].map((size) => written(size, "A")).join(" and ");
  };
  const [one, other] = [sizesOf(false, toPrimary), sizesOf(true, toPrimaryOfSecond)];
  if (other === "") return [];
  return [...(one === "" ? [] : [`first side ${one}`]), `second side ${other}`];
}

/** What stands before the level that counts: the healthy system, from which a function starts and in which a disk runs back. */
export interface Before {
  readonly time: Seconds;
  /** As the channels of the source put it out. */
  readonly state: string;
}

/** None where a sweep begins at its first level. */
export function before({ timeline, sweep }: Check): Before | undefined {
  const [first] = timeline.segments;
  const isOwn = sweep === undefined ? first?.clock === undefined : (sweep.preFault ?? sweep.rest) !== undefined;
  if (first === undefined || !isOwn) return undefined;
  return { time: first.duration, state: putOut([first, first], timeline) || "nothing" };
}

/** How long the first level of a sweep stands before its steps, which it needs to settle or to start; none between rests. */
export function settles({ timeline, sweep }: Check): Seconds | undefined {
  if (sweep === undefined) return undefined;
  return sweepStates(timeline, sweep).settling?.duration;
}

/** How the inputs of the second side of a zone end. */
const SECOND = "2";

/** Between which states a check moves: the first and the last level of a sweep, or the level itself. */
function endsOf({ timeline, sweep }: Check): readonly [Segment, Segment] {
  const single = clockState(timeline);
  if (single !== undefined) return [single, single];
  const { levels } = sweepStates(timeline, sweep ?? {});
  // A check of somebody's own may have one state, and that without a clock.
  const [only] = timeline.segments as readonly [Segment];
  return [levels[0] ?? only, levels.at(-1) ?? only];
}

const moved = (from: number, to: number, digits = 5): string =>
  from === to ? plain(from, digits) : `${plain(from, digits)} to ${plain(to, digits)}`;

/** A tenth of a millihertz is as fine as a plan goes, and at 50 Hz the sixth digit. */
const OF_FREQUENCY = 7;

function anglesInWords({ from, to }: Group): string {
  const listed = (angles: readonly Degrees[]) => `${angles.map((angle) => plain(signedAngle(angle), 6)).join(", ")}°`;
  const isTurned = from.some((angle, i) => angle !== to[i]);
  return ` at ${listed(from)}${isTurned ? `, turned to ${listed(to)}` : ""}`;
}

/** ` with 0.6 A of harmonic 2`; no plan moves them. */
const harmonicsInWords = ({ harmonics = [] }: ChannelState, unit: string): string =>
  harmonics.map(({ order, rms }) => ` with ${written(plain(rms, 5), unit)} of harmonic ${order}`).join("");

function frequencyInWords(from: ChannelState, to: ChannelState): string {
  const rate = [from.slope?.frequency ?? 0, to.slope?.frequency ?? 0] as const;
  const moving = rate[0] === 0 && rate[1] === 0 ? "" : `, moving by ${moved(...rate)} Hz/s`;
  return `${moved(from.frequency, to.frequency, OF_FREQUENCY)} Hz${moving}`;
}
