/** How the two sides of a differential zone are fed with the channels of a source. */
import { signedAngle } from "../base/degrees.js";
import type { ChannelStates, Lever, Wiring } from "../base/sequence.js";
import type { Degrees } from "../base/units.js";
import { magnitude } from "../phasor/index.js";
import type { Zone } from "./differential-setting.js";
import { comparedOn, type SideName, SUFFIX } from "./differential-zone.js";
import { inputsOf } from "./inputs.js";
import { type Bench, balanced, type Setup, single } from "./setup.js";
import { PHASES, SQRT3 } from "./three-phases.js";

/** One channel of a bench that feeds a zone. */
interface Fed {
  readonly name: string;
  readonly side: SideName;
  /** What it puts out for each ampere that is compared. */
  readonly perAmpere: number;
  readonly angle: Degrees;
}

/** Channels that feed both sides so that what is compared of the second runs right against the first, in every phase. */
export interface BothSides {
  readonly fed: readonly Fed[];
  readonly wiring: Wiring;
  readonly note: string;
}

/** Currents as they are compared, in A of the first side. */
export interface Compared {
  readonly first: number;
  readonly second: number;
}

/** The channel states for currents of both sides. */
export const statesFor = ({ fed }: BothSides, currents: Compared, { frequency }: Setup): ChannelStates =>
  Object.fromEntries(
    fed.map(({ name, side, perAmpere, angle }) => [name, { rms: currents[side] * perAmpere, frequency, angle }]),
  );

/** What one unit of a level adds to the channels, where it adds so much to the currents of both sides. */
export const leverFor = ({ fed }: BothSides, perLevel: Compared): Lever =>
  Object.fromEntries(fed.map(({ name, side, perAmpere }) => [name, { rms: perLevel[side] * perAmpere }]));

/** What one ampere on phases of a side makes of the three phases that are compared. */
type Pattern = readonly [a: number, b: number, c: number];

/** A current on one phase, and in on one and back on another. */
const PATTERNS: readonly { readonly pattern: Pattern; readonly words: string }[] = [
  { pattern: [1, 0, 0], words: "on phase a" },
  { pattern: [0, 1, 0], words: "on phase b" },
  { pattern: [0, 0, 1], words: "on phase c" },
  { pattern: [1, -1, 0], words: "in on phase a, back on b" },
  { pattern: [0, 1, -1], words: "in on phase b, back on c" },
  { pattern: [-1, 0, 1], words: "in on phase c, back on a" },
];

const feedsOf = (pattern: Pattern, side: SideName) =>
  Object.fromEntries(
    PHASES.map((phase, i) => [`i${phase}${SUFFIX[side]}`, pattern[i] as number] as const).filter(
      ([, factor]) => factor !== 0,
    ),
  );

/** What is compared of one ampere on phases of a side; all of it is real, since one channel has one angle. */
function comparedFor(zone: Zone, pattern: Pattern, side: SideName): number[] {
  const inputs = inputsOf(
    { i: { rms: 1, frequency: 1 } },
    { i: { quantity: "current", feeds: feedsOf(pattern, side) } },
  );
  return comparedOn(inputs, zone).map((pair) => pair[side === "first" ? 0 : 1].re);
}

const largestOf = (compared: readonly number[]): number => Math.max(...compared.map(Math.abs));

const HAIR = 1e-9;

/**
 * Whether each phase sees as much as the others or nothing at all. A phase that sees half of it, as behind the matrix 2/3,
 * −1/3, −1/3, may operate before the one that sees all of it, where the characteristic grows faster than the restraint.
 */
function isEven(compared: readonly number[]): boolean {
  const most = largestOf(compared);
  return compared.every((one) => Math.abs(one) <= HAIR * most || most - Math.abs(one) <= HAIR * most);
}

/** How one channel on each side is wired so that all phases that see anything see both sides alike. */
interface Matched {
  readonly first: (typeof PATTERNS)[number];
  readonly second: (typeof PATTERNS)[number];
  readonly perAmpere: Compared;
  /** The second side runs against the first as it is, or turned by half a turn. */
  readonly isOpposite: boolean;
}

function matched(zone: Zone): Matched | undefined {
  for (const first of PATTERNS) {
    const one = comparedFor(zone, first.pattern, "first");
    for (const second of PATTERNS) {
      const other = comparedFor(zone, second.pattern, "second");
      const [most, mostOther] = [largestOf(one), largestOf(other)];
      const sum = one.map((x, i) => x / most + (other[i] as number) / mostOther);
      const difference = one.map((x, i) => x / most - (other[i] as number) / mostOther);
      // What is compared alike is as even on one side as on the other.
      const isOpposite = largestOf(sum) <= HAIR;
      if (isEven(other) && (isOpposite || largestOf(difference) <= HAIR))
        return { first, second, perAmpere: { first: 1 / most, second: 1 / mostOther }, isOpposite };
    }
  }
  return undefined;
}

/** Six channels feed both sides three-phase; two of three feed them on phases that are compared alike. */
export function bothSides(zone: Zone, setup: Setup): BothSides | string {
  if (setup.secondCurrentChannels === 3) return threePhase(zone, setup);
  if (setup.currentChannels === 1) return "takes two currents in a known ratio, and the source has one current channel";
  const match = matched(zone);
  if (match === undefined) return "no phases of the two sides are compared alike";
  const { first, second, perAmpere, isOpposite } = match;
  return {
    fed: [
      { name: "ia", side: "first", perAmpere: perAmpere.first, angle: 0 },
      { name: "ib", side: "second", perAmpere: perAmpere.second, angle: isOpposite ? 0 : 180 },
    ],
    wiring: {
      ia: { quantity: "current", feeds: feedsOf(first.pattern, "first") },
      ib: { quantity: "current", feeds: feedsOf(second.pattern, "second") },
    },
    note: `channel ia ${first.words} of the first side, ib ${second.words} of the second`,
  };
}

/** The positive sequence of a side is turned by 30° · clock, and backwards where the system turns ACB. */
function threePhase(zone: Zone, setup: Setup): BothSides {
  const { first, second } = zone;
  const hours = (first.clock - second.clock) * (setup.rotation === "ABC" ? 1 : -1);
  const ratio = second.ratedCurrent / first.ratedCurrent;
  const names = Object.entries(balanced(setup, "current", 1).states);
  const sideOf = (side: SideName, perAmpere: number, turn: Degrees): Fed[] =>
    names.map(([name, { angle = 0 }]) => ({
      name: `${name}${SUFFIX[side]}`,
      side,
      perAmpere,
      angle: signedAngle(angle + turn),
    }));
  const fed = [...sideOf("first", 1, 0), ...sideOf("second", ratio, 180 + 30 * hours)];
  return {
    fed,
    wiring: Object.fromEntries(fed.map(({ name }) => [name, { quantity: "current", feeds: { [name]: 1 } }])),
    note: "both sides three-phase, the second against the first",
  };
}

/** One channel through both sides in series, where the relay takes that for a current that passes through. */
export function inSeries(zone: Zone): BothSides | string {
  const match = matched(zone);
  const ratio = match === undefined ? 0 : match.perAmpere.second / match.perAmpere.first;
  if (match === undefined || Math.abs(ratio - 1) > HAIR)
    return "takes two currents in a known ratio, and the source has one current channel; the same current in series through both sides would not be balanced";
  const { first, second, perAmpere, isOpposite } = match;
  const back = second.pattern.map((factor) => (isOpposite ? factor : -factor) + 0) as unknown as Pattern;
  return {
    fed: [{ name: "i", side: "first", perAmpere: perAmpere.first, angle: 0 }],
    wiring: { i: { quantity: "current", feeds: { ...feedsOf(first.pattern, "first"), ...feedsOf(back, "second") } } },
    note: `one current in series through both sides: ${first.words} of the first, and back through the second`,
  };
}

const COUNTS: readonly (readonly [share: number, words: string])[] = [
  [1, "all of it counts"],
  [2 / 3, "2/3 of it counts, since the zero sequence is removed"],
  [1 / SQRT3, "1/√3 of it counts, since differences of phases are compared"],
];

/** One ampere on one side alone, with how much of it is compared: three-phase on three channels, else phase a. */
export function sideAlone(
  side: SideName,
  zone: Zone,
  setup: Setup,
): { readonly bench: Bench; readonly counts: number; readonly note: string } {
  const isWhole = setup.currentChannels === 3;
  const bench = isWhole ? threeOn(side, setup) : single(setup, "current", 1, { [`ia${SUFFIX[side]}`]: 1 });
  const compared = comparedOn(inputsOf(bench.states, bench.wiring), zone);
  const counts = Math.max(...compared.map((pair) => magnitude(pair[side === "first" ? 0 : 1])));
  if (isWhole) return { bench, counts, note: `the ${side} side alone, three-phase` };
  const share = (counts * zone[side].ratedCurrent) / zone.first.ratedCurrent;
  const words = COUNTS.find(([known]) => Math.abs(known - share) < HAIR)?.[1];
  return { bench, counts, note: `the ${side} side alone, on phase a: ${words}` };
}

/** Balanced channels on a side: those of the first, wired to it, where the source has no others. */
function threeOn(side: SideName, setup: Setup): Bench {
  const { states, wiring } = balanced(setup, "current", 1);
  const own = setup.secondCurrentChannels === 3 ? SUFFIX[side] : "";
  return {
    states: Object.fromEntries(Object.entries(states).map(([name, state]) => [`${name}${own}`, state])),
    wiring: Object.fromEntries(
      Object.keys(wiring).map((name) => [
        `${name}${own}`,
        { quantity: "current", feeds: { [`${name}${SUFFIX[side]}`]: 1 } },
      ]),
    ),
  };
}

/** The same current in all three phases of a side, none at first, and what makes one ampere of the first side of it. */
export function zeroSequenceOf(side: SideName, zone: Zone, setup: Setup): Bench & { readonly perAmpere: number } {
  const { frequency } = setup;
  const perAmpere = zone[side].ratedCurrent / zone.first.ratedCurrent;
  const inputs = PHASES.map((phase) => `i${phase}${SUFFIX[side]}`);
  if (setup.currentChannels === 1)
    return { ...single(setup, "current", 0, Object.fromEntries(inputs.map((input) => [input, 1]))), perAmpere };
  const channels = PHASES.map((phase) => `i${phase}${setup.secondCurrentChannels === 3 ? SUFFIX[side] : ""}`);
  return {
    perAmpere,
    states: Object.fromEntries(channels.map((name) => [name, { rms: 0, frequency, angle: 0 }])),
    wiring: Object.fromEntries(
      channels.map((name, i) => [name, { quantity: "current", feeds: { [inputs[i] as string]: 1 } }]),
    ),
  };
}
