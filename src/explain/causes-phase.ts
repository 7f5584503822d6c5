/** Causes in the connections: phases, angles and polarities, and other elements on the same contact. */
import type { Segment, Wiring } from "../base/sequence.js";
import { operateTime } from "../curve/index.js";
import { type Definition, definitionOf, type ElementSetting, inputsOf, lawOf } from "../element/index.js";
import type { Cause, Situation, Way } from "./situation.js";
import type { Taken } from "./taken.js";

/** The state in which the element is asked: the fault, or the end of a sweep. */
const asked = ({ check: { timeline } }: Taken): Segment | undefined =>
  timeline.segments.find(({ clock }) => clock === "starts") ?? timeline.segments.at(-1);

const readBy = (setting: ElementSetting, segment: Segment, wiring: Wiring) =>
  (definitionOf(setting.function) as unknown as Definition).read(inputsOf(segment.channels, wiring), setting);

type Rewired = (wiring: Wiring) => Wiring;

/** The quantity that a element sees when its channels are wired otherwise, over what it sees as planned. */
function seenOver(taken: Taken, rewired: Rewired): number {
  const { unit } = definitionOf(taken.setting.function);
  const segment = asked(taken);
  if (segment === undefined || (unit !== "A" && unit !== "V")) return 1;
  const { wiring } = taken.check.timeline;
  const planned = readBy(taken.setting, segment, wiring).quantity;
  const ratio = planned > 0 ? readBy(taken.setting, segment, rewired(wiring)).quantity / planned : 1;
  // What a rounding leaves of nothing is nothing, and a rounding of the same is the same.
  if (ratio < 1e-9) return 0;
  return Math.abs(ratio - 1) < 1e-9 ? 1 : ratio;
}

function wiredAs(rewired: Rewired): Partial<Situation> {
  return {
    seen: (level, taken) => level * seenOver(taken, rewired),
    levelWritten: (quantity, taken) => quantity / seenOver(taken, rewired),
  };
}

/** Phases b and c change places. */
const turned: Rewired = (wiring) =>
  Object.fromEntries(
    Object.entries(wiring).map(([name, { quantity, feeds }]) => {
      const swapped = Object.entries(feeds).map(([input, factor]): [string, number] => [OTHER[input] ?? input, factor]);
      return [name, { quantity, feeds: Object.fromEntries(swapped) }];
    }),
  );

const OTHER: { readonly [input: string]: string } = { ib: "ic", ic: "ib", vb: "vc", vc: "vb" };

/** What feeds phase a comes the other way round. */
const reversed: Rewired = (wiring) =>
  Object.fromEntries(
    Object.entries(wiring).map(([name, { quantity, feeds }]) => {
      const turnedRound = Object.entries(feeds).map(([input, factor]): [string, number] => [
        input,
        input.endsWith("a") ? -factor : factor,
      ]);
      return [name, { quantity, feeds: Object.fromEntries(turnedRound) }];
    }),
  );

export const rotationReversed: Cause = {
  name: "rotation-reversed",
  touches: "relay",
  lookAt:
    "Check the phase rotation of the source and of the relay, and whether angles are counted as leading or as lagging.",
  ways: () => [
    {
      differs: () => wiredAs(turned),
      says: () => "The phase rotation may be reversed, or angles counted the other way.",
    },
  ],
};

export const polarityReversed: Cause = {
  name: "polarity-reversed",
  touches: "relay",
  lookAt: "Check the polarity of each phase at the terminals.",
  ways: () => [
    {
      differs: () => wiredAs(reversed),
      says: () => "One phase may be connected with reversed polarity.",
    },
  ],
};

export const neighbourFirst: Cause = {
  name: "neighbour-first",
  touches: "element",
  lookAt: "Read which element operated in the relay's event list, and whether all that was to be blocked was blocked.",
  ways: ({ setting, settings: { elements } }): Way[] =>
    elements
      .filter((other) => other.id !== setting.id && other.contact === setting.contact)
      .map((neighbour) => ({
        which: neighbour.id,
        differs: () => ({ contactTime: (time, taken) => Math.min(time, neighbourTime(neighbour, taken)) }),
        says: () => `${neighbour.id}, on the same contact, may have operated first.`,
      })),
};

/** When the neighbour operates on what is injected. */
function neighbourTime(neighbour: ElementSetting, taken: Taken): number {
  const segment = asked(taken);
  if (segment === undefined) return Number.POSITIVE_INFINITY;
  const { multiple, blocked } = readBy(neighbour, segment, taken.check.timeline.wiring);
  if (blocked) return Number.POSITIVE_INFINITY;
  const injected = taken.level / (taken.check.level ?? taken.level);
  return Math.max(operateTime(lawOf(neighbour), multiple * injected), neighbour.measuringDelay);
}
