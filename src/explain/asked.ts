/** In which state an element is asked, and what it makes of what it sees there. */
import type { Segment, Wiring } from "../base/sequence.js";
import {
  type Definition,
  definitionOf,
  type Edge,
  type ElementSetting,
  inputsOf,
  type Observation,
} from "../element/index.js";
import type { Situation } from "./situation.js";
import type { Taken } from "./taken.js";

const definitionFor = ({ function: name }: ElementSetting): Definition => definitionOf(name) as unknown as Definition;

/** The state in which the element is asked: the fault, or the end of a sweep. */
export const askedIn = ({ check: { timeline } }: Taken): Segment | undefined =>
  timeline.segments.find(({ clock }) => clock === "starts") ?? timeline.segments.at(-1);

/** What an element makes of a state of the channels. */
export const readBy = (setting: ElementSetting, { channels }: Segment, wiring: Wiring): Observation =>
  definitionFor(setting).read(inputsOf(channels, wiring), setting);

/** In which states of a check an element operates. */
interface Operates {
  /** Where a sweep begins, and where it ends. */
  readonly from: boolean;
  readonly to: boolean;
  readonly asked: boolean;
}

/** Whether an element operates where a sweep begins, where it ends, and where it is asked. */
export function operatesAt(taken: Taken, situation: Situation): Operates {
  const setting = situation.setting(taken.setting);
  const { segments, wiring } = taken.check.timeline;
  const operatesIn = (segment: Segment | undefined): boolean => {
    if (segment === undefined) return false;
    const { margin, blocked } = readBy(setting, segment, situation.wired(wiring, taken));
    return margin > 0 && !blocked;
  };
  return { from: operatesIn(segments[0]), to: operatesIn(segments.at(-1)), asked: operatesIn(askedIn(taken)) };
}

/** Whether an element that sets quantities against each other is kept from operating by how they stand. */
export function isBlocked(taken: Taken, situation: Situation): boolean {
  const setting = situation.setting(taken.setting);
  const segment = askedIn(taken);
  if (definitionFor(setting).relates !== true || segment === undefined) return false;
  return readBy(setting, segment, situation.wired(taken.check.timeline.wiring, taken)).blocked;
}

/** The place on the boundary that a check sweeps through, of an element as it may really be set. */
export function edgeOf({ check, setup }: Taken, setting: ElementSetting): Edge | undefined {
  const edges = definitionFor(setting).edges?.(setting, setup) ?? [];
  return edges.find(({ name }) => check.id === `${setting.id}/edge@${name}`);
}
