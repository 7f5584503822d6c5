/** Causes in the connections: phases, angles and polarities, and other elements on the same contact. */
import type { Wiring } from "../base/sequence.js";
import { operateTime } from "../curve/index.js";
import { definitionOf, type ElementSetting, type LevelUnit, lawOf } from "../element/index.js";
import { askedIn, readBy } from "./asked.js";
import { eachLead, unitOf } from "./changed.js";
import type { Cause, Situation, Way } from "./situation.js";
import type { Taken } from "./taken.js";

type Rewired = (wiring: Wiring) => Wiring;

/** What grows with the currents and voltages. */
const SIZES: readonly LevelUnit[] = ["A", "V", "W"];

/** The quantity that an element sees when its channels are wired otherwise, over what it sees as planned. */
function seenOver(taken: Taken, rewired: Rewired): number {
  const segment = askedIn(taken);
  if (segment === undefined || !SIZES.includes(unitOf(taken.setting))) return 1;
  const { wiring } = taken.check.timeline;
  const planned = readBy(taken.setting, segment, wiring).quantity;
  const ratio = planned > 0 ? readBy(taken.setting, segment, rewired(wiring)).quantity / planned : 1;
  // What a rounding leaves of nothing is nothing, and a rounding of the same is the same.
  if (ratio < 1e-9) return 0;
  return Math.abs(ratio - 1) < 1e-9 ? 1 : ratio;
}

function wiredAs(rewired: Rewired): Partial<Situation> {
  return {
    wired: rewired,
    seen: (level, taken) => level * seenOver(taken, rewired),
    levelWritten: (quantity, taken) => quantity / seenOver(taken, rewired),
  };
}

const OTHER: { readonly [input: string]: string } = { ib: "ic", ic: "ib", vb: "vc", vc: "vb" };

/** Phases b and c change places. */
const turned: Rewired = (wiring) => eachLead(wiring, (input, factor) => [OTHER[input] ?? input, factor]);

/** What feeds phase a comes the other way round. */
const phaseReversed: Rewired = (wiring) =>
  eachLead(wiring, (input, factor) => [input, input.endsWith("a") ? -factor : factor]);

const currentsReversed: Rewired = (wiring) =>
  eachLead(wiring, (input, factor) => [input, input.startsWith("i") ? -factor : factor]);

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
      differs: () => wiredAs(phaseReversed),
      says: () => "One phase may be connected with reversed polarity.",
    },
  ],
};

/** Whether it sets voltages against currents, so that their directions count. */
const relates = ({ function: name }: ElementSetting): boolean => definitionOf(name).relates === true;

export const allCurrentsReversed: Cause = {
  name: "currents-reversed",
  touches: "relay",
  lookAt:
    "Check the polarity of currents against voltages at the terminals, and on which side of the current transformers the star point is.",
  ways: ({ setting }) =>
    relates(setting)
      ? [
          {
            differs: () => wiredAs(currentsReversed),
            says: () => "Currents, or voltages, may be connected with reversed polarity: forward is taken for reverse.",
          },
        ]
      : [],
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

/** When the neighbour operates on what is injected; where a level moves, what it does is not followed. */
function neighbourTime(neighbour: ElementSetting, taken: Taken): number {
  const segment = askedIn(taken);
  if (segment === undefined || taken.check.sweep !== undefined) return Number.POSITIVE_INFINITY;
  const { multiple, blocked } = readBy(neighbour, segment, taken.check.timeline.wiring);
  if (blocked) return Number.POSITIVE_INFINITY;
  const injected = taken.level / (taken.check.level ?? taken.level);
  return Math.max(operateTime(lawOf(neighbour), multiple * injected), neighbour.measuringDelay);
}
