/** An earth fault outside a differential zone with the source at hand. */
import type { Answer } from "../base/answer.js";
import { cosDegrees } from "../base/degrees.js";
import type { ChannelState, Wiring } from "../base/sequence.js";
import type { Pose } from "./definition.js";
import type { Zone } from "./differential-setting.js";
import { type SideName, SUFFIX } from "./differential-zone.js";
import type { Setup } from "./setup.js";
import { PHASES, SQRT3 } from "./three-phases.js";

/** Phases of a side that carry the same share of the fault, some of them backwards: one channel feeds them in series. */
interface Group {
  readonly share: number;
  readonly feeds: Wiring[string]["feeds"];
  readonly words: string;
}

/**
 * What each phase of the other side carries of one ampere on phase a: the opposite of it, since it passes through, without the
 * zero sequence. What is left is a third each of positive and negative sequence, turned opposite ways by the clock numbers.
 */
function sharesOn(other: SideName, { first, second }: Zone): readonly [number, number, number] {
  const hours = other === "second" ? first.clock - second.clock : second.clock - first.clock;
  const share = (lag: number) => (-2 / 3) * cosDegrees(30 * hours - lag);
  return [share(0), share(120), share(-120)];
}

const SHARES: readonly (readonly [share: number, words: string])[] = [
  [2 / 3, "2/3"],
  [1 / 3, "1/3"],
  [1 / SQRT3, "1/√3"],
];

function groupsOn(other: SideName, zone: Zone): Group[] {
  const shares = sharesOn(other, zone);
  return SHARES.flatMap(([size, words]) => {
    const those = PHASES.flatMap((phase, i) => {
      const share = shares[i] as number;
      return Math.abs(Math.abs(share) - size) < 1e-9 ? [{ phase, sign: Math.sign(share) }] : [];
    });
    const [one] = those;
    if (one === undefined) return [];
    const feeds = those.map(({ phase, sign }) => [`i${phase}${SUFFIX[other]}`, sign * one.sign] as const);
    const named = those.map(({ phase, sign }) => `${phase}${sign > 0 ? "" : " reversed"}`);
    return { share: size * one.sign, feeds: Object.fromEntries(feeds), words: `${words} on ${named.join(" and ")}` };
  });
}

/**
 * Phase a of a side alone, as of an earth fault outside on the side whose neutral is earthed within the zone, and what of it the
 * other side carries. The level is the current of the phase, in A of the first side.
 */
export function earthFaultOutside(side: SideName, zone: Zone, setup: Setup): Answer<Pose, string> {
  const hasSix = setup.secondCurrentChannels === 3;
  if (setup.currentChannels === 1 && !hasSix)
    return {
      kind: "none",
      reason: "takes currents of both sides in a known ratio, and the source has one current channel",
    };
  const other = side === "first" ? "second" : "first";
  const groups = groupsOn(other, zone);
  const faulted: Group = { share: 1, feeds: { [`ia${SUFFIX[side]}`]: 1 }, words: "" };
  const fed = [{ side, group: faulted }, ...groups.map((group) => ({ side: other, group }) as const)];
  const channels = fed.flatMap(({ side: on, group }, i) => {
    const perLevel = Math.abs(group.share) * (zone[on].ratedCurrent / zone.first.ratedCurrent);
    const channel = (name: string, feeds: Group["feeds"], share: number) => ({
      name,
      feeds,
      perLevel,
      angle: share < 0 ? 180 : 0,
    });
    return hasSix
      ? Object.entries(group.feeds).map(([input, sign]) => channel(input, { [input]: 1 }, sign * group.share))
      : [channel(`i${PHASES[i]}`, group.feeds, group.share)];
  });
  const stateOf = (angle: number): ChannelState => ({ rms: 0, frequency: setup.frequency, angle });
  return {
    kind: "found",
    base: Object.fromEntries(channels.map(({ name, angle }) => [name, stateOf(angle)])),
    lever: Object.fromEntries(channels.map(({ name, perLevel }) => [name, { rms: perLevel }])),
    wiring: Object.fromEntries(channels.map(({ name, feeds }) => [name, { quantity: "current", feeds }])),
    note: `phase a of the ${side} side alone; of that, per unit, the ${other} side carries ${groups.map(({ words }) => words).join(", ")}`,
  };
}
