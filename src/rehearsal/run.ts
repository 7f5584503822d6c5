/** Several functions along the states of a sequence, with the contacts that they drive. */
import type { Segment, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { atRest, type Happening, passed, type Rehearsed, type RelayState } from "./relay-state.js";
import { type Turned, turnedAfter } from "./source.js";
import { type Stretch, trackOf } from "./track.js";

/** A contact that changed, and the element that made it. */
export interface RehearsedEvent {
  /** Seconds since the start. */
  readonly at: Seconds;
  readonly contact: string;
  readonly to: "closed" | "open";
  readonly element: string;
}

/** Something that an element did, whatever its contacts show. */
export interface ElementEvent extends Happening {
  readonly element: string;
}

/** A relay between two states. */
export interface Relay {
  readonly now: Seconds;
  readonly turned: Turned;
  readonly states: readonly RelayState[];
}

/** A relay at rest. */
export const relayAtRest = (elements: readonly Rehearsed[], turned: Turned): Relay => ({
  now: 0,
  turned,
  states: elements.map(atRest),
});

/** What came of one state. */
export interface Passed {
  readonly relay: Relay;
  readonly events: readonly RehearsedEvent[];
  readonly log: readonly ElementEvent[];
}

/** One state, until its time is over or the contact that ends it has done so. */
export function runState(elements: readonly Rehearsed[], relay: Relay, segment: Segment, wiring: Wiring): Passed {
  const tracks = elements.map((element) => trackOf(element, segment, wiring, relay.turned));
  const end = relay.now + segment.duration;
  const whole = runTracks(elements, relay, tracks, end);
  const ending = whole.events.find(
    ({ contact, to }) => contact === segment.endsOn?.contact && to === segment.endsOn.to,
  );
  if (ending === undefined || ending.at > end) return arrived(whole, relay, segment, end);
  // A hair longer, so that the rounding of instants does not lose what ended the state.
  const hair = 1e-12 * Math.max(1, ending.at);
  const cut = tracks.map((track) => upTo(track, ending.at - relay.now + hair));
  return arrived(runTracks(elements, relay, cut, ending.at + hair), relay, segment, ending.at);
}

interface Ran {
  readonly states: readonly RelayState[];
  readonly events: readonly RehearsedEvent[];
  readonly log: readonly ElementEvent[];
}

function runTracks(
  elements: readonly Rehearsed[],
  relay: Relay,
  tracks: readonly (readonly Stretch[])[],
  until: Seconds,
): Ran {
  const ran = elements.map((element, i) =>
    passed(element, { state: relay.states[i] as RelayState, stretches: tracks[i] as Stretch[], now: relay.now, until }),
  );
  const log = ran
    .flatMap(({ happenings }, i) =>
      happenings.map((one) => ({ ...one, element: (elements[i] as Rehearsed).setting.id })),
    )
    .sort((a, b) => a.at - b.at);
  return { states: ran.map(({ state }) => state), events: contactsOf(log, elements, relay.states), log };
}

/** All of them stand at the same instant, whatever their arithmetic says. */
function arrived({ states, events, log }: Ran, relay: Relay, segment: Segment, now: Seconds): Passed {
  const turned = turnedAfter(now - relay.now, segment, relay.turned);
  const together = states.map((state) => ({ ...state, travel: { ...state.travel, elapsed: now } }));
  return { relay: { now, turned, states: together }, events, log };
}

/** The stretches up to an instant. */
function upTo(track: readonly Stretch[], lasted: Seconds): Stretch[] {
  return track.flatMap((stretch) => {
    if (stretch.since >= lasted) return [];
    const duration = Math.min(stretch.duration, lasted - stretch.since);
    const share = stretch.duration === 0 ? 1 : duration / stretch.duration;
    return [{ ...stretch, duration, to: stretch.from + (stretch.to - stretch.from) * share }];
  });
}

type Holding = ReadonlyMap<string, readonly string[]>;

/** Which elements hold which contact closed. */
function heldBy(elements: readonly Rehearsed[], states: readonly RelayState[]): Holding {
  const holding = new Map<string, string[]>();
  const hold = (contact: string, id: string) => holding.set(contact, [...(holding.get(contact) ?? []), id]);
  elements.forEach(({ setting }, i) => {
    const { shows, operated } = states[i] as RelayState;
    if (shows && setting.startContact !== undefined) hold(setting.startContact, setting.id);
    if (operated) hold(setting.contact, setting.id);
  });
  return holding;
}

/** A contact is closed while any element holds it: it changes with the first that closes and the last that lets go. */
function contactsOf(
  log: readonly ElementEvent[],
  elements: readonly Rehearsed[],
  before: readonly RelayState[],
): RehearsedEvent[] {
  const holding = new Map(heldBy(elements, before));
  return log.flatMap((event) => {
    const { setting } = elements.find((one) => one.setting.id === event.element) as Rehearsed;
    return movedBy(event, setting).flatMap(([contact, to]): RehearsedEvent[] => {
      const held = holding.get(contact) ?? [];
      const others = held.filter((id) => id !== event.element);
      holding.set(contact, to === "closed" ? [...others, event.element] : others);
      const isChange = to === "closed" ? held.length === 0 : held.length > 0 && others.length === 0;
      return isChange ? [{ at: event.at, contact, to, element: event.element }] : [];
    });
  });
}

/** Which contacts a step moves, and how. */
function movedBy(
  { step }: ElementEvent,
  { contact, startContact }: Rehearsed["setting"],
): [contact: string, to: "closed" | "open"][] {
  const start = startContact === undefined ? [] : [startContact];
  if (step === "started") return start.map((name) => [name, "closed"]);
  if (step === "operated") return [[contact, "closed"]];
  return [...start, contact].map((name) => [name, "open"]);
}
